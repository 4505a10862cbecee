#include "materials/nearest_name.hpp"

#include <gtest/gtest.h>

namespace standfast {
namespace {

const std::vector<std::string> keys{"name", "material", "height", "heights", "round", "joint"};

TEST(NearestName, FindsTheUsualSlips) {
    EXPECT_EQ(nearest_name("heigth", keys), "height");  // neighbours swapped
    EXPECT_EQ(nearest_name("matreial", keys), "material");
    EXPECT_EQ(nearest_name("materal", keys), "material");  // a letter left out
    EXPECT_EQ(nearest_name("joinnt", keys), "joint");      // a letter doubled
    EXPECT_EQ(nearest_name("raund", keys), "round");       // a wrong letter
    EXPECT_EQ(nearest_name("HEIGHT", keys), "height");     // letter case
}

TEST(NearestName, SaysNothingWhenNothingIsNear) {
    EXPECT_EQ(nearest_name("spindle", keys), std::nullopt);
    EXPECT_EQ(nearest_name("", keys), std::nullopt);
    EXPECT_EQ(nearest_name("height", {}), std::nullopt);
    EXPECT_EQ(nearest_name("x", {"y"}), std::nullopt);
    EXPECT_EQ(nearest_name(std::string(1'000'000, 'a'), keys), std::nullopt);
}

TEST(NearestName, TheCloserOfTwoWins) {
    EXPECT_EQ(nearest_name("heights", keys), "heights");
    EXPECT_EQ(nearest_name("height", keys), "height");
}

}  // namespace
}  // namespace standfast
