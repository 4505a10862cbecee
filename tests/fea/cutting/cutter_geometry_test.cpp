#include "fea/cutting/cutter_geometry.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

namespace standfast {
namespace {

Cutter plain_cutter(int teeth) {
    Cutter cutter;
    cutter.diameter = 0.01;
    cutter.teeth = teeth;
    cutter.helix = 0.7;
    return cutter;
}

TEST(CutterGeometry, TeethSpreadEvenlyUnlessPitchIsGiven) {
    const CutterGeometry even = cutter_geometry(plain_cutter(5));
    ASSERT_EQ(even.teeth(), 5);
    EXPECT_TRUE(even.evenly_spaced());
    EXPECT_FALSE(even.runs_out());
    EXPECT_NEAR(even.tooth_angle[3], 3 * 2 * std::numbers::pi / 5, 1e-14);

    Cutter variable = plain_cutter(4);
    const double degree = std::numbers::pi / 180;
    variable.pitch = {88 * degree, 92 * degree, 88 * degree, 92 * degree};
    const CutterGeometry uneven = cutter_geometry(variable);
    EXPECT_FALSE(uneven.evenly_spaced());
    EXPECT_NEAR(uneven.tooth_angle[1], 88 * degree, 1e-14);
    EXPECT_NEAR(uneven.tooth_angle[3], 268 * degree, 1e-14);
}

TEST(CutterGeometry, RunoutIsAShiftedAxisReadByAnIndicator) {
    // The indicator's full reading is twice the eccentricity: largest less smallest radius.
    Cutter cutter = plain_cutter(4);
    cutter.runout = 0.01e-3;
    const CutterGeometry geometry = cutter_geometry(cutter);
    ASSERT_TRUE(geometry.runs_out());
    EXPECT_NEAR(geometry.runout[0] - geometry.runout[2], 0.01e-3, 1e-12);
    EXPECT_NEAR(geometry.runout[1], 0, 1e-15);
    double sum = 0;
    for (const double offset : geometry.runout) sum += offset;
    EXPECT_NEAR(sum, 0, 1e-15);
}

TEST(CutterGeometry, HelixOfTheCuttersOwnHandIsPulledToTheTip) {
    Cutter cutter = plain_cutter(3);
    EXPECT_TRUE(cutter_geometry(cutter).pulled_to_tip);
    EXPECT_GT(cutter_geometry(cutter).helix, 0);
    cutter.right_hand = false;
    EXPECT_FALSE(cutter_geometry(cutter).pulled_to_tip);
    EXPECT_LT(cutter_geometry(cutter).helix, 0);
    cutter.right_hand = true;
    cutter.helix = -0.7;
    EXPECT_FALSE(cutter_geometry(cutter).pulled_to_tip);
}

TEST(CutterGeometry, RefusesWhatIsNoCutter) {
    EXPECT_THROW(cutter_geometry(plain_cutter(0)), std::domain_error);
    Cutter cutter = plain_cutter(2);
    cutter.corner_radius = 0.006;
    EXPECT_THROW(cutter_geometry(cutter), std::domain_error);
    cutter = plain_cutter(3);
    cutter.pitch = {3, 3};
    EXPECT_THROW(cutter_geometry(cutter), std::domain_error);
    cutter.pitch = {2, 2, 2};
    EXPECT_THROW(cutter_geometry(cutter), std::domain_error);  // 6 rad are no full turn
    cutter = plain_cutter(2);
    cutter.runout = -1e-6;
    EXPECT_THROW(cutter_geometry(cutter), std::domain_error);
}

}  // namespace
}  // namespace standfast
