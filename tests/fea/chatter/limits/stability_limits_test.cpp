#include "fea/chatter/limits/stability_limits.hpp"

#include <gtest/gtest.h>

#include <stdexcept>

namespace standfast {
namespace {

TEST(SearchDepth, IsTheLargestOfFluteFiveDiametersAndSixtyMillimetres) {
    EXPECT_EQ(search_depth(0.025, 0.010), 0.060);
    EXPECT_EQ(search_depth(0.025, 0.020), 0.100);
    EXPECT_EQ(search_depth(0.120, 0.020), 0.120);
    EXPECT_THROW(search_depth(-0.1, 0.010), std::domain_error);
    EXPECT_THROW(search_depth(0.025, 0), std::domain_error);
}

}  // namespace
}  // namespace standfast
