#include "fea/judgement/holding/joint_hold.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

namespace standfast {
namespace {

const PreloadedFace kFace{
    .preload = 20e3, .friction = 0.15, .half_x = 0.05, .half_y = 0.03, .round = false};
const ClampedDovetail kTail{
    .clamp = 18e3, .friction = 0.15, .flank = std::numbers::pi / 3, .length = 0.06, .width = 0.032};
const ClampedJaws kJaws{
    .force = 20e3, .friction = 0.2, .length = 0.06, .grip = 0.003, .width = 0.05};

double factor_of(const Hold& hold, const Eigen::Vector3d& force, double height) {
    return load_factor(&hold, nullptr, {}, wrench_of(force, {0, 0, height}), 1e9).factor;
}

// Overturning of a stack on its base, F H <= W b/2: textbook statics, with the preload as weight.
TEST(JointHold, APressedFaceOverturnsAboutItsEdge) {
    const Hold face = kFace;
    const double height = 0.4;  // high enough that it does not slip first
    EXPECT_NEAR(factor_of(face, {0, 1, 0}, height), kFace.preload * kFace.half_y / height, 1e-3);
    EXPECT_NEAR(factor_of(face, {1, 0, 0}, height), kFace.preload * kFace.half_x / height, 1e-3);
}

TEST(JointHold, AFaceSlipsAtFrictionTimesPreloadAndLiftsAtPreload) {
    const Hold face = kFace;
    EXPECT_NEAR(factor_of(face, {1, 0, 0}, 0), 0.15 * 20e3, 1e-3);
    EXPECT_NEAR(factor_of(face, {0, 0, 1}, 0), 20e3, 1e-2);
    EXPECT_EQ(load_factor(&face, nullptr, {}, wrench_of({0, 0, 1}, {0, 0, 0}), 1e9).mode,
              HoldingMode::slip)
        << "without normal force nothing holds sideways: both end at the preload";
}

TEST(JointHold, ARoundFaceDoesNotCareWhichWayItIsPushed) {
    const Hold face = PreloadedFace{
        .preload = 20e3, .friction = 0.3, .half_x = 0.04, .half_y = 0.04, .round = true};
    const double along = factor_of(face, {1, 0, 0}, 0.2);
    const double askew = factor_of(face, {std::sqrt(0.5), std::sqrt(0.5), 0}, 0.2);
    EXPECT_NEAR(along, askew, 1e-6 * along);
}

TEST(JointHold, ADovetailSlipsAlongItsLengthFirst) {
    const Hold tail = kTail;
    const double along = factor_of(tail, {1, 0, 0}, 0);
    const double across = factor_of(tail, {0, 1, 0}, 0);
    EXPECT_LT(along, across);
    // Friction on both flanks and on the seat they press it to: 0.3933 per flank at 60 deg.
    EXPECT_NEAR(along, 0.15 * (2 * 18e3 + 2 * 18e3 * 0.3933), 2);
    EXPECT_NEAR(across, 2 * 18e3, 1e-2);
}

TEST(JointHold, AxialPullLiftsADovetailAndPressingDoesNot) {
    const Hold tail = kTail;
    const LoadFactor pulled = load_factor(&tail, nullptr, {}, wrench_of({0, 0, 1}, {0, 0, 0}), 1e9);
    EXPECT_NEAR(pulled.factor, 2 * 18e3 * 0.3933, 2);
    EXPECT_EQ(pulled.mode, HoldingMode::lift_off);
    EXPECT_GT(factor_of(tail, {0, 0, -1}, 0), 1e8);
}

TEST(JointHold, FourWaysToLetGoOfTheJaws) {
    const Hold jaws = kJaws;
    const auto mode = [&](const Eigen::Vector3d& force, double height) {
        return load_factor(&jaws, nullptr, {}, wrench_of(force, {0, 0, height}), 1e9).mode;
    };
    EXPECT_EQ(mode({1, 0, 0}, 0), HoldingMode::slip);
    EXPECT_EQ(mode({0, 0, 1}, 0), HoldingMode::pull_out);
    EXPECT_EQ(mode({0, 1, 0}, 0.08), HoldingMode::tip);
    // P g/3 + mu P w across the jaws, from equilibrium of linear pressures.
    const double capacity = 20e3 * (0.003 / 3 + 0.2 * 0.05);
    const double found = factor_of(jaws, {0, 1, 0}, 0.08);
    EXPECT_LT(found, capacity / 0.0815);  // less than the couple alone would bear
    EXPECT_GT(found, 0.9 * capacity / 0.0815);
}

TEST(JointHold, ASeatHelpsAgainstTurningInTheJawsAndNeverHurts) {
    ClampedJaws seated = kJaws;
    seated.seated = true;
    EXPECT_GT(factor_of(seated, {1, 0, 0}, 0.08), 1.5 * factor_of(kJaws, {1, 0, 0}, 0.08));
    for (const Eigen::Vector3d& force : {Eigen::Vector3d(1, 0, 0.9), Eigen::Vector3d(0.2, 1, 0.3),
                                         Eigen::Vector3d(0, 0, 1), Eigen::Vector3d(-1, 1, -0.5)}) {
        for (double height = 0; height < 0.2; height += 0.01) {
            EXPECT_GE(factor_of(seated, force, height), factor_of(kJaws, force, height));
        }
    }
}

TEST(JointHold, MomentsOfOneInstantNeverExceedThoseAddedUp) {
    for (const Eigen::Vector3d& force : {Eigen::Vector3d(1, 2, -3), Eigen::Vector3d(-1, 0.5, 2)}) {
        for (const Eigen::Vector3d& place : {Eigen::Vector3d(4, 5, 6), Eigen::Vector3d(-2, 1, 7)}) {
            const Wrench added = wrench_of(force, place), instant = instant_wrench(force, place);
            EXPECT_EQ(instant.force, added.force);
            for (int i = 0; i < 3; ++i) EXPECT_LE(instant.moment[i], added.moment[i]);
        }
    }
    // y Fz - z Fy = 2 * 3 - 1 * 6 cancels; its parts add up to 12.
    EXPECT_EQ(instant_wrench({0, 6, 3}, {0, 2, 1}).moment.x(), 0);
    EXPECT_EQ(wrench_of({0, 6, 3}, {0, 2, 1}).moment.x(), 12);
}

TEST(JointHold, ANeckBreaksAtItsBendingStrength) {
    // 60 x 32 mm neck of a metal with 275 MPa: F H = strength b h^2 / 6.
    const FootSection neck{.area = 0.06 * 0.032,
                           .modulus_x = 0.06 * 0.032 * 0.032 / 6,
                           .modulus_y = 0.032 * 0.06 * 0.06 / 6,
                           .strength = 275e6};
    const double height = 10;  // so slender that shear does not count
    const LoadFactor found =
        load_factor(nullptr, &neck, {}, wrench_of({0, 1, 0}, {0, 0, height}), 1e9);
    EXPECT_NEAR(found.factor, 275e6 * 0.06 * 0.032 * 0.032 / 6 / height, 1e-3 * found.factor);
    EXPECT_EQ(found.mode, HoldingMode::neck_stress);
}

TEST(JointHold, EveryHoldBearsLessTheHigherItIsPushed) {
    for (const Hold& hold : {Hold(kFace), Hold(kTail), Hold(kJaws)})
        for (const Eigen::Vector3d& force :
             {Eigen::Vector3d(1, 0, 0.3), Eigen::Vector3d(0.2, 1, 0.3),
              Eigen::Vector3d(-1, 1, -0.5)})
            for (double height = 0; height < 0.2; height += 0.01)
                EXPECT_LE(factor_of(hold, force, height + 0.01), factor_of(hold, force, height));
}

TEST(JointHold, DoubleTheClampDoubleTheHold) {
    ClampedDovetail twice = kTail;
    twice.clamp *= 2;
    const Eigen::Vector3d force(0.5, 0.4, 0.3);
    EXPECT_NEAR(factor_of(twice, force, 0.07), 2 * factor_of(kTail, force, 0.07),
                1e-6 * factor_of(twice, force, 0.07));
}

TEST(JointHold, WeightThatOverturnsAlreadyLeavesNothing) {
    const Hold face = kFace;
    const Wrench own = wrench_of({0, 2 * 20e3 * 0.03, 0}, {0, 0, 1});
    EXPECT_EQ(load_factor(&face, nullptr, own, wrench_of({1, 0, 0}, {0, 0, 0})).factor, 0);
}

TEST(JointHold, FactorsEndAtTheirCap) {
    const Hold face = kFace;
    EXPECT_EQ(load_factor(&face, nullptr, {}, wrench_of({1e-6, 0, 0}, {0, 0, 0})).factor,
              kHoldingCap);
}

}  // namespace
}  // namespace standfast
