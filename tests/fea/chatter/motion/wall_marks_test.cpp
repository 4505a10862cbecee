#include "fea/chatter/motion/wall_marks.hpp"

#include <gtest/gtest.h>

#include <numbers>
#include <stdexcept>

#include "tests/fea/chatter/milling_cases.hpp"

namespace standfast {
namespace {

constexpr double kDiameter = 0.012, kFeed = 0.1e-3;

TEST(WallMarks, EqualTeethLeaveFeedMarks) {
    // f^2/(8 R), common knowledge.
    const CutterGeometry cutter = reference::even_cutter(4, kDiameter);
    EXPECT_NEAR(wall_waviness({0, 0, 0, 0}, cutter, kFeed), kFeed * kFeed / (8 * 0.006), 1e-15);
    EXPECT_NEAR(wall_waviness({5e-6, 5e-6, 5e-6, 5e-6}, cutter, kFeed), kFeed * kFeed / 0.048,
                1e-15);
}

TEST(WallMarks, AToothThatStandsOutFarLeavesMarksOfTheRevolutionsFeed) {
    const CutterGeometry cutter = reference::even_cutter(3, kDiameter);
    const double revolution = 3 * kFeed;
    EXPECT_NEAR(wall_waviness({50e-6, 0, 0}, cutter, kFeed), revolution * revolution / 0.048,
                1e-15);
    EXPECT_NEAR(wall_waviness({0, -80e-6, 50e-6}, cutter, kFeed), revolution * revolution / 0.048,
                1e-15);
}

TEST(WallMarks, TwoTeethThatReachAlmostAlike) {
    // Arcs a feed f apart, one lower by e, cross e R/f beside the middle.
    const CutterGeometry cutter = reference::even_cutter(2, kDiameter);
    const double lower = 0.1e-6, radius = kDiameter / 2;
    const double beside = kFeed / 2 + lower * radius / kFeed;  // from the higher tooth
    EXPECT_NEAR(wall_waviness({0, -lower}, cutter, kFeed), beside * beside / (2 * radius), 1e-15);
}

TEST(WallMarks, WithoutFeedThereAreNone) {
    const CutterGeometry cutter = reference::even_cutter(2, kDiameter);
    EXPECT_EQ(wall_waviness({0, -1e-6}, cutter, 0), 0);
    EXPECT_THROW(wall_waviness({0}, cutter, kFeed), std::domain_error);
}

}  // namespace
}  // namespace standfast
