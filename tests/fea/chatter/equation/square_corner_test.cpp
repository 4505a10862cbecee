#include "fea/chatter/equation/square_corner.hpp"

#include <gtest/gtest.h>

namespace standfast {
namespace {

double corner_left(double corner, double depth) {
    return with_small_corner_square({.diameter = 0.010, .corner_radius = corner}, depth)
        .corner_radius;
}

TEST(SquareCorner, ACornerThatIsSmallBesideTheDepthIsSquareAndNoOther) {
    EXPECT_EQ(corner_left(0.5e-3, 2e-3), 0);
    EXPECT_EQ(corner_left(0.5e-3, 1e-3), 0.5e-3);
    EXPECT_EQ(corner_left(0.3e-3, 1e-3), 0.3e-3) << "three tenths are not under three tenths";
    EXPECT_EQ(corner_left(0.005, 0.016), 0.005) << "a ball, 16 mm deep";
    EXPECT_EQ(corner_left(0, 1e-3), 0);
}

TEST(SquareCorner, BeforeADepthIsKnownATenthOfTheDiameterIsSmall) {
    const CutterGeometry cutter{.diameter = 0.010};
    const double depth = depth_for_corner(cutter);
    EXPECT_EQ(corner_left(0.99e-3, depth), 0);
    EXPECT_EQ(corner_left(1e-3, depth), 1e-3);
}

}  // namespace
}  // namespace standfast
