// What a cut asks of the spindle, against the handbook's power and against the force itself.
#include "fea/judgement/speed/spindle_power.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "fea/judgement/answer/levels.hpp"

namespace standfast {
namespace {

RigidCut square_cut(double diameter, int teeth, double radial, double depth, double feed) {
    Cutter cutter;
    cutter.diameter = diameter;
    cutter.teeth = teeth;
    cutter.helix = 0.6;
    RigidCut cut;
    cut.cutter = cutter_geometry(cutter);
    cut.engagement = engagement(Milling::down, radial, diameter);
    cut.law = {.tangential = 2000e6, .radial = 700e6};
    cut.feed_per_tooth = feed;
    cut.depth = depth;
    return cut;
}

// P = a_p a_e v_f k_c / (60 x 10^6), in mm, mm/min, N/mm2, kW: handbooks of machining, common
// knowledge of the trade. 8 mm deep, 20 mm wide, 4 teeth, 0.05 mm, 4000 rpm, 2000 N/mm2: 800 mm/min
// and 4.27 kW.
TEST(SpindlePower, IsTheHandbooksWhereTheEdgeCostsNothing) {
    const RigidCut cut = square_cut(20e-3, 4, 20e-3, 8e-3, 0.05e-3);
    const double feed = 4 * 0.05 * 4000;  // mm/min
    const double kilowatts = 8 * 20 * feed * 2000 / 60e6;
    const SpindlePower asked = spindle_power({}, mean_torque(cut), SpindleSpeed::from_rpm(4000));
    EXPECT_NEAR(asked.power / 1e3, kilowatts, 1e-9 * kilowatts);
    EXPECT_FALSE(asked.judged);
    EXPECT_EQ(judge_power_level(asked, {}).level, Level::unflagged);
}

TEST(SpindlePower, OfANarrowCutGoesWithItsWidth) {
    const double full = mean_torque(square_cut(16e-3, 3, 16e-3, 5e-3, 0.08e-3));
    for (const double share : {0.05, 0.3, 0.5, 0.8}) {
        EXPECT_NEAR(mean_torque(square_cut(16e-3, 3, share * 16e-3, 5e-3, 0.08e-3)), share * full,
                    1e-9 * full);
    }
}

// Against the force model: the tangential part of one straight tooth's force, summed over the arc.
TEST(SpindlePower, IsTheMeanOfTheTangentialForceWithItsEdgePart) {
    RigidCut cut = square_cut(12e-3, 1, 7e-3, 4e-3, 0.06e-3);
    cut.cutter.helix = 0;
    cut.law.tangential_edge = 15e3;
    constexpr int kSteps = 20000;
    double sum = 0;
    for (int i = 0; i < kSteps; ++i) {
        const double phi = 2 * std::numbers::pi * (i + 0.5) / kSteps;
        const Eigen::Vector3d force = rigid_force(cut, phi);
        sum += -(force.x() * std::cos(phi) - force.y() * std::sin(phi));
    }
    EXPECT_NEAR(mean_torque(cut), sum / kSteps * 6e-3, 2e-3 * mean_torque(cut));
}

TEST(SpindlePower, OfABallIsLessThanOfASquareCorner) {
    RigidCut cut = square_cut(12e-3, 2, 6e-3, 3e-3, 0.06e-3);
    const double square = mean_torque(cut);
    cut.cutter.corner_radius = 6e-3;
    EXPECT_LT(mean_torque(cut), 0.75 * square);
    EXPECT_GT(mean_torque(cut), 0.4 * square);
}

// A 20 mm slot 20 mm deep in steel, 4 teeth, 0.05 mm at 2500 rpm: 6.67 kW at 2000 N/mm2.
TEST(SpindlePower, ASlotOfAWholeDiameterStallsASmallSpindleAndNotALargeOne) {
    const double torque = mean_torque(square_cut(20e-3, 4, 20e-3, 20e-3, 0.05e-3));
    const SpindleSpeed speed = SpindleSpeed::from_rpm(2500);
    Machine small, large;
    small.spindle_kind.power = 5.5e3;
    small.spindle_kind.torque = 35;
    large.power = 22e3;
    large.torque = 400;
    const SpindlePower asked = spindle_power(small, torque, speed);
    EXPECT_NEAR(asked.power, 6.667e3, 5);
    EXPECT_NEAR(*asked.available_power, 5.5e3, 1e-6);
    EXPECT_EQ(judge_power_level(asked, {}).level, Level::avoid);
    EXPECT_EQ(judge_power_level(asked, {}).reason, Reason::power);
    EXPECT_EQ(judge_power_level(spindle_power(large, torque, speed), {}).level, Level::unflagged);
}

TEST(SpindlePower, TorqueIsWhatGivesOutAtLowSpeedAndPowerAtHighSpeed) {
    Machine machine;
    machine.power = 5.5e3;
    machine.torque = 35;
    const double corner = 5.5e3 / 35;  // rad/s
    const SpindlePower slow = spindle_power(machine, 30, SpindleSpeed{corner / 4});
    EXPECT_DOUBLE_EQ(*slow.available_torque, 35);
    EXPECT_DOUBLE_EQ(*slow.available_power, 5.5e3 / 4);
    EXPECT_DOUBLE_EQ(slow.ratio, 30.0 / 35);
    EXPECT_EQ(judge_power_level(slow, {}).level, Level::marginal);
    const SpindlePower fast = spindle_power(machine, 30, SpindleSpeed{2 * corner});
    EXPECT_DOUBLE_EQ(*fast.available_torque, 17.5);
    EXPECT_DOUBLE_EQ(*fast.available_power, 5.5e3);
    EXPECT_EQ(judge_power_level(fast, {}).level, Level::avoid);
}

TEST(SpindlePower, OneRatingAloneIsEnoughToJudge) {
    Machine machine;
    machine.torque = 20;
    const SpindlePower asked = spindle_power(machine, 30, SpindleSpeed::from_rpm(1000));
    EXPECT_TRUE(asked.judged);
    EXPECT_DOUBLE_EQ(asked.ratio, 1.5);
}

}  // namespace
}  // namespace standfast
