#include "fea/studies/fit/suspects.hpp"

#include <gtest/gtest.h>

namespace standfast {
namespace {

Measured pushed() {
    Measured measured;
    measured.push = PushTest{};
    return measured;
}

TEST(Suspects, SlipsThatAShopMakesAreNamed) {
    const Measured push = pushed(), other{};
    EXPECT_EQ(suspect_of(push, Observed::moved, -18e-6, 19e-6), "sign reversed?");
    EXPECT_NE(suspect_of(push, Observed::moved, 18e-3, 19e-6).find("factor of a thousand"),
              std::string::npos);
    EXPECT_NE(suspect_of(push, Observed::moved, 25.4 * 19e-6, 19e-6).find("inch"),
              std::string::npos);
    EXPECT_NE(suspect_of(push, Observed::moved, 4.45 * 19e-6, 19e-6).find("lbf"),
              std::string::npos);
    EXPECT_EQ(suspect_of(other, Observed::frequency, 50.1, 207), "50 Hz is mains hum");
    EXPECT_EQ(suspect_of(other, Observed::frequency, 120, 207), "120 Hz is mains hum");
    EXPECT_NE(suspect_of(other, Observed::frequency, 1300.6, 207).find("rad/s"), std::string::npos);
    EXPECT_NE(suspect_of(other, Observed::damping, 2.4, 0.024).find("percentage"),
              std::string::npos);
    EXPECT_EQ(suspect_of(push, Observed::moved, 24e-6, 19e-6), "");
}

TEST(Suspects, OnlyTheImpossibleIsGross) {
    EXPECT_TRUE(is_gross(Observed::moved, -18e-6, 19e-6));
    EXPECT_TRUE(is_gross(Observed::moved, 18e-3, 19e-6));
    EXPECT_FALSE(is_gross(Observed::moved, 60e-6, 19e-6)) << "a joint may well be that soft";
    EXPECT_TRUE(is_gross(Observed::frequency, 50, 207));
    EXPECT_FALSE(is_gross(Observed::frequency, 100, 103)) << "a mode may sound there";
    EXPECT_FALSE(is_gross(Observed::frequency, 140, 207));
    EXPECT_TRUE(is_gross(Observed::damping, 2.4, 0.024));
}

}  // namespace
}  // namespace standfast
