#include "cli/job/read/screw_size.hpp"

#include <gtest/gtest.h>

namespace standfast {
namespace {

TEST(ScrewSize, MetricInchAndNumberedThreadsGiveTheirNominalDiameter) {
    EXPECT_DOUBLE_EQ(screw_diameter("M12").value_or(0), 0.012);
    EXPECT_DOUBLE_EQ(screw_diameter("M8x1.25").value_or(0), 0.008);
    EXPECT_DOUBLE_EQ(screw_diameter("1/2-13").value_or(0), 0.0127);
    EXPECT_DOUBLE_EQ(screw_diameter("3/8 in").value_or(0), 0.009525);
    // A number 10 screw is 0.190 in (ASME B1.1, from memory).
    EXPECT_NEAR(screw_diameter("#10-32").value_or(0), 0.190 * 0.0254, 1e-9);
}

TEST(ScrewSize, WhatIsNoScrewGivesNone) {
    for (const char* const text :
         {"", "M", "M-3", "#", "#99", "12", "-", "M0.01", "Mx", "1-", "x"}) {
        EXPECT_FALSE(screw_diameter(text).has_value()) << text;
    }
}

}  // namespace
}  // namespace standfast
