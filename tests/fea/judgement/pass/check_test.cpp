#include "fea/judgement/pass/check.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <memory>
#include <numeric>
#include <stdexcept>

#include "fea/chatter/limits/zero_order.hpp"
#include "fea/job/edits/apply_edits.hpp"
#include "fea/judgement/answer/speed_window.hpp"
#include "fea/judgement/cut/headings.hpp"
#include "fea/judgement/cut/sides.hpp"
#include "fea/reach_fcl/fcl_distance.hpp"
#include "tests/fea/judgement/sample_job.hpp"

namespace standfast {
namespace {

CheckOptions without_advice() {
    CheckOptions options;
    options.advise = false;
    return options;
}

/// A light finishing cut, well below its edge of chatter.
Job finishing_job() {
    Job job = test_job();
    job.passes[0].axial = 1.5e-3;
    job.passes[0].tolerance = 0.08e-3;
    job.passes[0].path = {{0.035, 0.020, 0.090}, {0.035, -0.020, 0.090}};
    return job;
}

PassReport pass_report_of(const Job& job, const CheckOptions& options = without_advice()) {
    return check_job(job, options).passes.at(0);
}

TEST(Check, AJobWhereNothingGivesHasNothingToFlag) {
    Job job = test_job();
    job.stack = Stack{};
    job.stack.rigid = true;
    job.tools[0].rigid = true;
    job.passes[0].tier = 0;
    job.passes[0].path.clear();
    job.passes[0].wall.reset();
    const PassReport report = pass_report_of(job);
    EXPECT_EQ(report.verdict.level, Level::unflagged);
    EXPECT_TRUE(report.verdict.reasons.empty());
    EXPECT_FALSE(report.at_programmed.limit);
    EXPECT_EQ(report.statics.error, 0);
    EXPECT_EQ(*report.error_at_programmed, 0);
    for (const SpeedLevel& speed : report.speeds)
        if (speed.offered) {
            EXPECT_EQ(speed.level, Level::unflagged) << speed.speed.rpm();
        }
}

TEST(Check, FillsEveryPartOfTheReport) {
    const JobReport job = check_job(finishing_job());
    const PassReport& report = job.passes.at(0);
    EXPECT_EQ(report.name, "finish the tall wall");
    EXPECT_GE(report.stability.speeds.size(), 80U);
    EXPECT_EQ(report.stability.speeds.size(), report.speeds.size());
    EXPECT_EQ(report.surface.speed.size(), report.speeds.size());
    EXPECT_EQ(report.surface.profile.size(), report.speeds.size());
    EXPECT_FALSE(report.tool_modes.empty());
    EXPECT_FALSE(report.work_modes.empty());
    EXPECT_FALSE(job.stack_modes.empty());
    EXPECT_NEAR(report.tooth_passing_hertz, 600, 1e-9);
    EXPECT_NEAR(report.gauge_length, 0.035 + 0.060 + 0.058, 1e-12);
    EXPECT_GT(report.peak_force.norm(), report.mean_force.norm());
    EXPECT_TRUE(report.holding.judged);
    EXPECT_TRUE(report.tool_stress.judged);
    EXPECT_GT(job.mass, 10);
    EXPECT_FALSE(job.not_judged.empty());
    EXPECT_FALSE(report.not_judged.empty());
    EXPECT_GT(report.whirl_ratio, 0);
    EXPECT_LT(report.whirl_ratio, 1);
    ASSERT_TRUE(report.error_at_programmed);
    ASSERT_TRUE(report.best);
}

// Zero-order takes modes with viscous damping, the direct solve structural damping; the most
// negative real part differs by the damping ratio, 2 to 3 % here.
TEST(Check, LimitsByModesAreThoseOfTheDirectSolveButForTheKindOfDamping) {
    const Job job = test_job();
    const Pass& pass = job.passes[0];
    const auto tool = tool_side_of(job, pass);
    const auto work = work_side_of(job, pass);
    const CutProblem problem = cut_problem(job, 0, tool, work, StabilityMethod::zero_order);
    const double heading = *fixed_heading(job, pass);
    const std::vector<SpindleSpeed> speeds = {
        SpindleSpeed::from_rpm(3000), SpindleSpeed::from_rpm(7000), SpindleSpeed::from_rpm(9000),
        SpindleSpeed::from_rpm(14000)};

    SampledReceptance direct;
    const CutReceptance axes = cut_receptance(*tool, *work, pass.tilt, pass.turn, heading);
    for (const AngularFrequency frequency : problem.frequencies) {
        direct.frequency.push_back(frequency);
        direct.value.emplace_back(axes.axes_from_spindle.transpose() *
                                      receptance_of(*tool, frequency) * axes.axes_from_spindle +
                                  axes.axes_from_stack.transpose() *
                                      receptance_of(*work, frequency) * axes.axes_from_stack);
    }
    DelaySystem system = delay_system(problem, heading);
    system.lines.reset();
    const StabilityLimits expected = zero_order_limits(system, direct, speeds, problem.searched_to);
    const StabilityLimits found =
        zero_order_limits(system, problem.frequencies, speeds, problem.searched_to);
    for (std::size_t i = 0; i < speeds.size(); ++i) {
        ASSERT_TRUE(expected.speeds[i].limit && found.speeds[i].limit);
        EXPECT_NEAR(*found.speeds[i].limit, *expected.speeds[i].limit,
                    0.04 * *expected.speeds[i].limit)
            << speeds[i].rpm() << " rpm";
    }
}

TEST(Check, VerdictGetsNoBetterAsThePassGetsDeeper) {
    Level before = Level::unflagged;
    for (double depth = 0.3e-3; depth < 20e-3; depth *= 1.6) {
        Job job = finishing_job();
        job.passes[0].axial = depth;
        job.passes[0].tolerance.reset();  // the wall error alone may fall with depth
        const PassReport report = pass_report_of(job);
        const Level chatter = report.at_programmed.limit && depth >= *report.at_programmed.limit
                                  ? Level::avoid
                                  : Level::unflagged;
        EXPECT_GE(report.verdict.level, before) << depth;
        EXPECT_GE(report.verdict.level, chatter);
        before = report.verdict.level;
    }
    EXPECT_EQ(before, Level::avoid);
}

TEST(Check, ATighterToleranceNeverGivesAKinderVerdict) {
    Level before = Level::avoid;
    for (const double tolerance : {1e-6, 5e-6, 20e-6, 100e-6, 1e-3}) {
        Job job = finishing_job();
        job.passes[0].tolerance = tolerance;
        const Level now = pass_report_of(job).verdict.level;
        EXPECT_LE(now, before);
        before = now;
    }
}

TEST(Check, WithoutAClampForceThePassIsNeverUnflagged) {
    Job job = finishing_job();
    ASSERT_EQ(pass_report_of(job).verdict.level, Level::unflagged);
    job.stack.tiers[2].joint.dovetail->clamp.reset();
    const PassReport report = pass_report_of(job);
    EXPECT_EQ(report.verdict.level, Level::marginal);
    EXPECT_EQ(report.verdict.reasons.front(), Reason::holding);
    EXPECT_FALSE(report.holding.judged);
}

TEST(Check, SharesOfTheWallErrorAddUpOverBothSides) {
    const PassReport report = pass_report_of(finishing_job());
    double sum = 0, tool = 0;
    for (const GiveShare& share : report.statics.give) {
        sum += share.share;
        if (share.tool_side) tool += share.share;
    }
    EXPECT_NEAR(sum, 1, 1e-9);
    EXPECT_GT(tool, 0);
    EXPECT_LT(tool, 1);
    // The largest share is listed first.
    EXPECT_GE(std::abs(report.statics.give.front().share),
              std::abs(report.statics.give.back().share));
}

// Common practice, no source: a plain steel riser is seldom the soft member.
TEST(Check, ASteelRiserIsSeldomTheSoftMember) {
    const PassReport report = pass_report_of(finishing_job());
    for (const GiveShare& share : report.statics.give)
        if (share.member == "riser") {
            EXPECT_LT(share.share, 0.1);
        }
}

// Common practice, no source: climb milling with a soft cutter leaves most stock at the foot of
// the wall, where the whole edge is in the cut as it makes the wall.
TEST(Check, ClimbWithASoftCutterIsWorstAtTheFootOfTheWall) {
    Job job = test_job();
    job.stack = Stack{};
    job.stack.rigid = true;
    job.passes[0].tier = 0;
    job.passes[0].path.clear();
    job.passes[0].wall.reset();
    job.passes[0].feed_heading = 0;
    job.passes[0].axial = 4e-3;
    job.tools[0].cutter.teeth = 2;
    const auto tool = tool_side_of(job, job.passes[0]);
    const auto work = work_side_of(job, job.passes[0]);
    const CutProblem problem = cut_problem(job, 0, tool, work, StabilityMethod::zero_order);
    RigidCut cut = problem.cut;
    cut.depth = 4e-3;
    const std::vector<double> error =
        static_error(tool->compliance, cut, wall_heights(cut.depth, 9));
    EXPECT_LT(error.front(), 0) << "stock is left";
    for (std::size_t i = 1; i < error.size(); ++i)
        EXPECT_LE(std::abs(error[i]), std::abs(error.front()) * (1 + 1e-9)) << i;
    EXPECT_LT(std::abs(error.back()), 0.5 * std::abs(error.front()));
}

// Common practice, no source: where the part is the soft one, the top of it is the worst place.
TEST(Check, WithASoftPartTheTopOfTheWallIsTheWorstPlace) {
    double before = 0;
    for (const double place : {0.02, 0.05, 0.09}) {
        Job job = finishing_job();
        job.tools[0].rigid = true;
        job.stack.tiers[2].shape = BlockShape{0.012, 0.050};
        job.stack.tiers[2].joint.solid = true;
        job.passes[0].path = {{0.006, 0, place}};
        const double error = std::abs(pass_report_of(job).statics.error);
        EXPECT_GT(error, 1.5 * before) << place;
        before = error;
    }
}

TEST(Check, TheWorstOfAllHeadingsIsNoBetterThanAnyGivenOne) {
    Job job = test_job();
    job.stack.tiers[2].shape = BlockShape{0.070, 0.012};  // soft one way
    job.stack.tiers[2].joint.solid = true;
    job.passes[0].wall.reset();
    const PassReport worst = pass_report_of(job);
    EXPECT_TRUE(worst.worst_heading);
    for (double heading = -180; heading < 180; heading += 25) {
        job.passes[0].feed_heading = heading * kTestDegree;
        const PassReport given = pass_report_of(job);
        EXPECT_FALSE(given.worst_heading);
        EXPECT_GE(*given.at_programmed.limit, 0.99 * *worst.at_programmed.limit) << heading;
        EXPECT_LE(std::abs(given.statics.error), 1.01 * std::abs(worst.statics.error)) << heading;
    }
}

TEST(Check, ASquareStackDoesNotCareWhichWallIsCut) {
    Job job = finishing_job();
    job.stack.tiers[2].shape = BlockShape{0.05, 0.05};
    Joint& joint = job.stack.tiers[2].joint;
    joint.dovetail.reset();
    joint.preload = 30e3;
    const auto limit_at = [&](const Eigen::Vector3d& wall) {
        job.passes[0].wall = wall;
        job.passes[0].path = {{0, 0, 0.09}};
        return *pass_report_of(job).at_programmed.limit;
    };
    const double x = limit_at(Eigen::Vector3d::UnitX());
    EXPECT_NEAR(limit_at(Eigen::Vector3d::UnitY()), x, 1e-6 * x);
    EXPECT_NEAR(limit_at(-Eigen::Vector3d::UnitX()), x, 1e-6 * x);
}

TEST(Check, AdviceGainsWhatItSaysWhenItIsFollowed) {
    Job job = test_job();
    job.passes[0].axial = 3e-3;
    job.passes[0].path = {{0.035, 0.020, 0.090}, {0.035, -0.020, 0.090}};
    const PassReport before = check_job(job).passes.at(0);
    ASSERT_FALSE(before.advice.empty());
    for (const Advice& advice : before.advice) {
        const PassReport after = pass_report_of(edited(job, advice.set));
        if (advice.limit_ratio) {
            EXPECT_NEAR(*after.at_programmed.limit / *before.at_programmed.limit,
                        *advice.limit_ratio, 1e-9)
                << "advice " << static_cast<int>(advice.kind);
        }
        if (advice.error_ratio) {
            EXPECT_NEAR(std::abs(*after.error_at_programmed / *before.error_at_programmed),
                        *advice.error_ratio, 2e-3 * *advice.error_ratio)
                << "advice " << static_cast<int>(advice.kind);
        }
        EXPECT_EQ(after.verdict.level, advice.level) << "advice " << static_cast<int>(advice.kind);
        EXPECT_LE(advice.level, before.verdict.level);
    }
}

TEST(Check, AdviceKeepsItsHandsOffWhatIsNotChecked) {
    Job job = test_job();
    const PassReport report = check_job(job).passes.at(0);
    const SpeedWindow offered = offered_window(job, job.passes[0]);
    for (const Advice& advice : report.advice) {
        for (const Edit& edit : advice.set) {
            if (const auto* const stickout = std::get_if<Stickout>(&edit)) {
                EXPECT_LT(stickout->stickout, job.tools[0].cutter.stickout);
                EXPECT_TRUE(advice.reach_unchecked);
            }
            if (advice.kind == AdviceKind::lower_riser) {
                EXPECT_TRUE(advice.reach_unchecked);
            }
            if (const auto* const other = std::get_if<PassSpeed>(&edit)) {
                EXPECT_TRUE(offered.contains(other->speed));
            }
        }
    }
    EXPECT_TRUE(std::any_of(report.advice.begin(), report.advice.end(), [](const Advice& advice) {
        return advice.kind == AdviceKind::shorter_stickout;
    })) << "a long tool is the usual culprit";
}

CheckOptions with_reach() {
    static const std::unique_ptr<SolidDistance> distance = fcl_distance();
    CheckOptions options;
    options.distance = distance.get();
    return options;
}

TEST(Check, AdviceNeverShortensBelowTheLeastStickoutThatClears) {
    Job job = test_job();
    job.tools[0].cutter.flute_length = 0.022;
    job.tools[0].grip_least = 0.036;
    // 50 mm of wall above the tip: the holder has to stay above the part.
    job.passes[0].path = {{0.035, 0.020, 0.045}, {0.035, -0.020, 0.045}};
    const PassReport report = check_job(job, with_reach()).passes.at(0);
    ASSERT_TRUE(report.reach.clear);
    EXPECT_NEAR(report.reach.least_stickout.value(), 0.052, 1e-5);
    for (const Advice& advice : report.advice) {
        EXPECT_FALSE(advice.reach_unchecked);
        if (advice.kind == AdviceKind::shorter_stickout) {
            EXPECT_GE(std::get<Stickout>(advice.set[0]).stickout, 0.052);
            EXPECT_TRUE(check_job(edited(job, advice.set), with_reach()).passes[0].reach.clear);
        }
    }
    EXPECT_TRUE(std::none_of(report.not_judged.begin(), report.not_judged.end(),
                             [](const std::string& item) { return item.starts_with("reach:"); }));
}

TEST(Check, ToolThatMeetsThePartIsToBeAvoidedAndOnlyReachIsAdvised) {
    Job job = test_job();
    job.tools[0].grip_least = 0.036;
    job.passes[0].axial = 0.2e-3;
    job.passes[0].path = {{0.035, 0.020, 0.035}, {0.035, -0.020, 0.035}};
    job.tools[0].cutter.neck_diameter = 0.009;
    job.tools[0].cutter.neck_length = 0.033;  // flutes 25 mm, 60 mm of wall, 58 mm out
    const PassReport report = check_job(job, with_reach()).passes.at(0);
    EXPECT_EQ(report.verdict.level, Level::avoid);
    EXPECT_EQ(report.verdict.reasons.at(0), Reason::reach);
    EXPECT_EQ(report.reach.tool_solid, "holder");
    ASSERT_FALSE(report.advice.empty());
    EXPECT_EQ(report.advice[0].kind, AdviceKind::longer_stickout);
    EXPECT_NEAR(std::get<Stickout>(report.advice[0].set[0]).stickout, 0.062, 0.11e-3);
    for (const Advice& advice : report.advice)
        EXPECT_TRUE(check_job(edited(job, advice.set), with_reach()).passes[0].reach.clear);
}

TEST(Check, WithoutSpeedAndDepthItTellsBothWithMargin) {
    Job job = finishing_job();
    job.passes[0].speed.reset();
    job.passes[0].axial.reset();
    const PassReport report = pass_report_of(job);
    ASSERT_TRUE(report.best);
    EXPECT_EQ(report.judged_speed, report.best->speed);
    EXPECT_NEAR(report.judged_depth, report.best->depth, 1e-12);
    EXPECT_TRUE(offered_window(job, job.passes[0]).contains(report.judged_speed));
    if (report.at_programmed.limit) {
        EXPECT_LT(report.judged_depth, 0.7 * *report.at_programmed.limit);
    }
    EXPECT_EQ(report.verdict.level, Level::unflagged);
}

TEST(Check, NothingIsRecommendedWhereTheWallErrorIsTooLarge) {
    Job job = finishing_job();
    job.passes[0].tolerance = 1e-9;
    const PassReport report = pass_report_of(job);
    EXPECT_FALSE(report.best);
    EXPECT_TRUE(report.quiet_bands.empty());
}

TEST(Check, PassesShareTheirSidesAndDoNotInfluenceEachOther) {
    Job job = finishing_job();
    const PassReport alone = pass_report_of(job);
    Pass other = job.passes[0];
    other.name = "other";
    other.milling = Milling::up;
    other.state = PassState{.shape = BlockShape{0.060, 0.045}, .height = std::nullopt};
    other.path = {{0.030, 0, 0.090}};
    job.passes.insert(job.passes.begin(), other);
    const JobReport both = check_job(job, without_advice());
    ASSERT_EQ(both.passes.size(), 2U);
    EXPECT_EQ(*both.passes[1].at_programmed.limit, *alone.at_programmed.limit);
    EXPECT_EQ(*both.passes[1].error_at_programmed, *alone.error_at_programmed);
    EXPECT_EQ(both.passes[0].name, "other");
}

TEST(Check, ModesInsteadOfGeometryNeedNoTier) {
    Job job = test_job();
    job.stack = Stack{};
    job.stack.modes = {{.direction = {1, 0, 0},
                        .frequency = AngularFrequency::from_hertz(355),
                        .damping_ratio = 0.03,
                        .mass = 6},
                       {.direction = {0, 1, 0},
                        .frequency = AngularFrequency::from_hertz(310),
                        .damping_ratio = 0.028,
                        .mass = 7}};
    job.passes[0].tier = 0;
    job.passes[0].path.clear();
    job.passes[0].wall.reset();
    job.passes[0].axial = 1e-3;
    job.passes[0].feed_heading = 0;
    const PassReport report = pass_report_of(job);
    EXPECT_EQ(report.work_modes.size(), 2U);
    EXPECT_NEAR(report.work_modes[0].frequency_hertz, 310, 1e-9);
    EXPECT_FALSE(report.holding.judged);
    EXPECT_GE(report.verdict.level, Level::marginal);
    EXPECT_TRUE(report.at_programmed.limit);
}

TEST(Check, AJobWithoutPassesOrWithAWrongIndexIsRefused) {
    Job job = test_job();
    CheckOptions options;
    options.only_pass = 3;
    EXPECT_THROW(check_job(job, options), std::domain_error);
    job.passes[0].tier = 9;
    EXPECT_THROW(check_job(job), std::domain_error);
    job.passes.clear();
    EXPECT_THROW(check_job(job), std::domain_error);
}

TEST(Check, WhatThePeriodicMethodRefusesIsAveragedAndSaysSo) {
    Job job = finishing_job();
    // Damped beyond what the period map's exponentials take.
    job.tools[0].modes = {{.direction = Eigen::Vector3d::UnitY(),
                           .frequency = AngularFrequency::from_hertz(900),
                           .damping_ratio = 0.995,
                           .mass = 0.05}};
    CheckOptions options = without_advice();
    options.method = StabilityMethod::periodic;
    options.speeds = {*job.passes[0].speed};
    options.odds.draws = 8;
    const PassReport report = pass_report_of(job, options);
    EXPECT_EQ(report.stability.method, StabilityMethod::zero_order);
    EXPECT_NE(report.stability.fallback.find("damping ratio"), std::string::npos);
    EXPECT_FALSE(report.odds);
    const bool said = std::any_of(
        report.not_judged.begin(), report.not_judged.end(),
        [](const std::string& item) { return item.find("zero-order") != std::string::npos; });
    EXPECT_TRUE(said);
}

}  // namespace
}  // namespace standfast
