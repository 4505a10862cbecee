#include "fea/judgement/holding/clamping.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <stdexcept>

#include "fea/judgement/holding/joint_hold.hpp"

namespace standfast {
namespace {

constexpr double kDegree = std::numbers::pi / 180;

// Mean distance of a rectangular face from its centre. Values computed independently (numerical
// integration, collection of reference values for workholding statics), to the digits given.
struct FaceRow {
    double a, b, lever;  // mm
};
constexpr FaceRow kMeanLevers[] = {{100, 4, 25.0633}, {60, 3, 15.0565}, {150, 6, 37.5949}};

TEST(Clamping, MeanLeverOfJawFacesMatchesIndependentValues) {
    for (const FaceRow& row : kMeanLevers)
        EXPECT_NEAR(mean_lever(row.a * 1e-3, row.b * 1e-3) * 1e3, row.lever, 6e-5)
            << row.a << " x " << row.b << " mm";
}

TEST(Clamping, MeanLeverAgreesWithSummationOverTheFace) {
    const double a = 0.05, b = 0.03;
    double sum = 0;
    const int cells = 400;
    for (int i = 0; i < cells; ++i)
        for (int j = 0; j < cells; ++j)
            sum += std::hypot(((i + 0.5) / cells - 0.5) * a, ((j + 0.5) / cells - 0.5) * b);
    EXPECT_NEAR(mean_lever(a, b), sum / (cells * cells), 1e-6 * a);
}

TEST(Clamping, MeanLeverOfANarrowFaceIsAQuarterOfItsLength) {
    EXPECT_NEAR(mean_lever(1, 1e-6), 0.25, 1e-6);
    EXPECT_DOUBLE_EQ(mean_lever(0.02, 0.07), mean_lever(0.07, 0.02));
}

// Seating force per clamp force, 1/tan(flank + atan mu): same collection, four digits.
struct SeatingRow {
    double flank, friction, ratio;
};
constexpr SeatingRow kSeating[] = {{45, 0.0, 1.0000},  {45, 0.1, 0.8182}, {45, 0.15, 0.7391},
                                   {45, 0.2, 0.6667},  {60, 0.0, 0.5774}, {60, 0.1, 0.4513},
                                   {60, 0.15, 0.3933}, {60, 0.2, 0.3383}};

TEST(Clamping, DovetailSeatingMatchesIndependentValues) {
    for (const SeatingRow& row : kSeating)
        EXPECT_NEAR(seating_ratio(row.flank * kDegree, row.friction), row.ratio, 6e-5)
            << row.flank << " deg, mu " << row.friction;
}

TEST(Clamping, PullingOutTakesMoreThanSeatingGave) {
    for (const SeatingRow& row : kSeating) {
        const double flank = row.flank * kDegree;
        EXPECT_GE(pull_out_ratio(flank, row.friction) + 1e-12, seating_ratio(flank, row.friction));
    }
    EXPECT_TRUE(std::isinf(pull_out_ratio(5 * kDegree, 0.2)));  // self-locking taper
}

// P = 25 kN, mu 0.2, faces 100 x 4 mm: slip capacity 10 kN; with safety 2.5, 4 kN pure slip and
// 1178.57 N at 60 mm above the middle of the faces (same collection).
TEST(Clamping, SlipOfTwoJawsMatchesTheWorkedExample) {
    const OpposedFaces jaws{
        .force = 25000, .friction = 0.2, .length = 0.1, .grip = 0.004, .width = 0.05};
    EXPECT_NEAR(slip_capacity(jaws), 10000, 1e-9);
    EXPECT_NEAR(slip_capacity(jaws) / 2.5, 4000, 1e-9);
    EXPECT_NEAR(slip_capacity_at_height(jaws, 0.060) / 2.5, 1178.57, 0.01);
}

TEST(Clamping, TheWorkedExampleComesOutOfTheWrenchToo) {
    const OpposedFaces jaws{
        .force = 25000, .friction = 0.2, .length = 0.1, .grip = 0.004, .width = 0.05};
    // 60 mm above the middle of the faces is 58 mm above their upper edge.
    const Wrench cut = wrench_of({1, 0, 0}, {0, 0, 0.058});
    const Hold hold = jaws;
    const LoadFactor found = load_factor(&hold, nullptr, {}, cut, 1e9);
    EXPECT_NEAR(found.factor / 2.5, 1178.57, 0.01);
    EXPECT_EQ(found.mode, HoldingMode::slip);
}

TEST(Clamping, OnASeatAThinStripTurnsAboutItsEndAndHoldsTwiceAsMuch) {
    // Mean distance of a line of length L from its middle L/4, from its end L/2.
    const OpposedFaces jaws{
        .force = 25000, .friction = 0.2, .length = 0.1, .grip = 1e-6, .width = 0.05};
    EXPECT_NEAR(turning_capacity(jaws) / slip_capacity(jaws), 0.025, 1e-6);
    EXPECT_NEAR(turning_capacity_on_seat(jaws) / slip_capacity(jaws), 0.05, 1e-6);
}

TEST(Clamping, ScrewPreloadFollowsTheNutFactor) {
    // Common practice, no source: an M12 screw at 85 N m pulls about 35 kN (K = 0.20).
    EXPECT_NEAR(screw_preload(85, 0.012), 35.4e3, 0.1e3);
    EXPECT_THROW(screw_preload(-1, 0.012), std::domain_error);
}

TEST(Clamping, SizesThatAreNotPhysicalAreNamed) {
    EXPECT_THROW(mean_lever(0, 1), std::domain_error);
    EXPECT_THROW(seating_ratio(-0.1, 0.2), std::domain_error);
    EXPECT_THROW(seating_ratio(1, std::nan("")), std::domain_error);
}

}  // namespace
}  // namespace standfast
