#include "fea/judgement/reach/machine_reach.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "fea/judgement/answer/weight.hpp"
#include "tests/fea/judgement/sample_job.hpp"

namespace standfast {
namespace {

// Sample job: plate 30 mm, riser 150 mm, tip 75 mm up the part, gauge length 95 + 58 mm.
constexpr double kTip = 0.255, kGauge = 0.153, kStickout = 0.058;

std::optional<MachineShort> short_of(const Job& job) {
    return machine_short_of(job, job.passes[0], kStickout, 2e-3);
}

TEST(MachineReach, UprightTheGaugeLineStandsTipAndToolOverTheTable) {
    Job job = test_job();
    job.machine.nose_to_table = {{0.100, kTip + kGauge + 1e-4}};
    EXPECT_FALSE(short_of(job));
    job.machine.nose_to_table = {{0.100, kTip + kGauge - 1e-4}};
    const auto lacking = short_of(job);
    ASSERT_TRUE(lacking);
    EXPECT_EQ(lacking->fault, ReachFault::travel);
    EXPECT_NEAR(lacking->needed, kTip + kGauge, 1e-12);
    EXPECT_TRUE(machine_short_of(job, job.passes[0], kStickout + 0.01, 2e-3));
    EXPECT_FALSE(machine_short_of(job, job.passes[0], kStickout - 0.01, 2e-3));
}

TEST(MachineReach, TiltedTheStackSwingsAboutTheTiltAxis) {
    // At 90 deg the tip's own x, 35 mm, stands over the tilt axis, which lies 50 mm over the table.
    Job job = test_job();
    job.passes[0].tilt = 90 * kTestDegree;
    job.machine.nose_to_table = {{0.250, 0.800}};
    EXPECT_FALSE(short_of(job)) << "not judged without the tilt axis";
    EXPECT_NE(machine_figures_missing(job, job.passes[0]).find("tilt_axis_above_table"),
              std::string::npos);
    job.machine.tilt_axis_above_table = 0.050;
    const auto lacking = short_of(job);
    ASSERT_TRUE(lacking);
    EXPECT_NEAR(lacking->needed, 0.050 + 0.035 + kGauge, 1e-12);
}

TEST(MachineReach, SwingIsTwiceTheFarthestCorner) {
    Job job = test_job();
    const double across = 2 * std::hypot(0.090, 0.090);  // the plate's corners
    job.machine.swing_diameter = across + 1e-4;
    EXPECT_FALSE(short_of(job));
    job.machine.swing_diameter = across - 1e-4;
    ASSERT_TRUE(short_of(job));
    EXPECT_EQ(short_of(job)->fault, ReachFault::swing);
    EXPECT_NEAR(short_of(job)->needed, across, 1e-12);
}

TEST(MachineReach, RoundStackSwingsItsDiameter) {
    Job job = test_job();
    for (Tier& tier : job.stack.tiers) tier.shape = RoundShape{0.120};
    job.machine.swing_diameter = 0.110;
    EXPECT_NEAR(short_of(job)->needed, 0.120, 2e-6);
}

TEST(MachineReach, ToolChangeNeedsStackToolAndClearance) {
    Job job = test_job();
    const double needed = 0.030 + 0.150 + 0.095 + 2e-3 + kGauge;
    job.machine.tool_change_height = needed + 1e-4;
    EXPECT_FALSE(short_of(job));
    job.machine.tool_change_height = needed - 1e-4;
    ASSERT_TRUE(short_of(job));
    EXPECT_EQ(short_of(job)->fault, ReachFault::tool_change);
    EXPECT_NEAR(short_of(job)->needed, needed, 1e-12);
}

TEST(MachineReach, TiltMomentIsThatAboutTheTiltAxisWhereItIsKnown) {
    Job job = test_job();
    job.passes[0].tilt = 90 * kTestDegree;
    const WeightResult about_face = judge_weight(job.machine, job.stack, job.passes[0]);
    job.machine.tilt_axis_above_table = 0.050;
    const WeightResult about_axis = judge_weight(job.machine, job.stack, job.passes[0]);
    EXPECT_NEAR(about_face.tilt_moment - about_axis.tilt_moment, about_face.mass * 9.80665 * 0.050,
                1e-9);
}

TEST(MachineReach, WhatIsNotGivenIsNamed) {
    Job job = test_job();
    EXPECT_EQ(machine_figures_missing(job, job.passes[0]),
              "travel, swing, tool change (no nose_to_table, swing_diameter, tool_change_height "
              "given)");
    job.machine.nose_to_table = {{0.1, 0.8}};
    job.machine.swing_diameter = 0.5;
    job.machine.tool_change_height = 0.9;
    EXPECT_EQ(machine_figures_missing(job, job.passes[0]), "");
}

}  // namespace
}  // namespace standfast
