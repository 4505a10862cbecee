#include "fea/judgement/reach/reach.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <memory>

#include "fea/job/edits/apply_edits.hpp"
#include "fea/judgement/answer/levels.hpp"
#include "fea/reach_fcl/fcl_distance.hpp"
#include "tests/fea/judgement/sample_job.hpp"

namespace standfast {
namespace {

using Eigen::Vector3d;

constexpr double kTipBelowTop = 0.020;  // m, of the sample pass
constexpr double kHundredth = 1e-5;     // m, to which stickouts are found
// Swept circles are polygons drawn around them: 0.2 % of a holder's or nose's radius.
constexpr double kPolygon = 0.1e-3;

const SolidDistance& fcl() {
    static const std::unique_ptr<SolidDistance> distance = fcl_distance();
    return *distance;
}

/// The sample job with flutes as long as the wall above the tip is tall, on a round table.
Job upright_job() {
    Job job = test_job();
    job.machine.table.diameter = 0.320;
    job.tools[0].cutter.flute_length = kTipBelowTop;
    job.tools[0].grip_least = 0.036;
    return job;
}

ReachResult reach_of(const Job& job, double clearance = 2e-3) {
    return reach_of_pass(job, job.passes[0], fcl(), {.clearance = clearance});
}
std::optional<double> least_of(const Job& job, double clearance = 2e-3) {
    return least_stickout(job, job.passes[0], fcl(), {.clearance = clearance});
}

/// A part's side wall cut from the side, the tool level at 90 deg, over a round table.
Job level_job(double riser_height = 0.150) {
    Job job = test_job(0.095, riser_height);
    job.machine.table.diameter = 0.320;
    job.machine.tilt_max = 110 * kTestDegree;
    job.tools[0].grip_least = 0.036;
    Pass& pass = job.passes[0];
    pass.tilt = 90 * kTestDegree;
    pass.wall.reset();
    pass.feed_heading = 90 * kTestDegree;
    pass.axial = 1e-3;
    pass.path = {{0.034, -0.010, 0.060}, {0.034, 0.010, 0.060}};
    return job;
}

TEST(Reach, HolderOverThePartNeedsTheWallAndTheClearance) {
    // The holder's nose is wider than the cutter, so it comes down onto the part's top.
    const ReachResult reach = reach_of(upright_job());
    EXPECT_TRUE(reach.judged);
    EXPECT_TRUE(reach.clear);
    EXPECT_EQ(reach.tool_solid, "holder");
    EXPECT_EQ(reach.work_solid, "part");
    EXPECT_NEAR(reach.distance, 0.058 - kTipBelowTop, 1e-6);
    EXPECT_NEAR(least_of(upright_job()).value(), kTipBelowTop + 2e-3, kHundredth);
}

TEST(Reach, TooShortAStickoutIsTooNearAndThenHits) {
    Job job = upright_job();
    job.tools[0].cutter.stickout = kTipBelowTop + 1e-3;
    EXPECT_EQ(reach_of(job).fault, ReachFault::too_near);
    EXPECT_NEAR(reach_of(job).distance, 1e-3, 1e-6);
    job.tools[0].cutter.flute_length = 0.015;
    job.tools[0].cutter.stickout = kTipBelowTop - 1e-3;
    EXPECT_EQ(reach_of(job).fault, ReachFault::hits);
    EXPECT_EQ(reach_of(job).distance, 0);
    EXPECT_FALSE(reach_of(job).clear);
}

TEST(Reach, LeastStickoutIsWhereTheRawDistanceMeetsTheClearance) {
    for (const double clearance : {1.5e-3, 3e-3, 4.5e-3}) {
        // Low over the plate, so that the holder must stay outside its edge.
        Job job = level_job(0.005);
        job.passes[0].path = {{0.034, -0.010, 0.005}, {0.034, 0.010, 0.005}};
        const double least = least_of(job, clearance).value();
        job.tools[0].cutter.stickout = least;
        const ReachResult at = reach_of(job, clearance);
        EXPECT_TRUE(at.clear);
        // Bisection of our own between holder far in and far out.
        double in = 0.026, out = 0.064;
        while (out - in > 1e-7) {
            job.tools[0].cutter.stickout = (in + out) / 2;
            (reach_of(job, clearance).distance >= clearance ? out : in) = (in + out) / 2;
        }
        EXPECT_GT(least, 0.0255) << "reach must be what limits it";
        EXPECT_NEAR(least, out, 2 * kHundredth);
    }
}

TEST(Reach, MoreClearanceNeverNeedsLess) {
    double last_stickout = 0, last_riser = 0;
    for (const double clearance : {0.0, 1e-3, 2e-3, 5e-3, 10e-3, 20e-3}) {
        const double stickout = least_of(upright_job(), clearance).value();
        EXPECT_GE(stickout, last_stickout);
        last_stickout = stickout;
        const Job level = level_job();
        const double riser =
            least_riser_height(level, level.passes[0], 1, fcl(), {.clearance = clearance}).value();
        EXPECT_GE(riser, last_riser);
        last_riser = riser;
        EXPECT_GE(reach_of(level, 0).clear, reach_of(level, clearance).clear);
    }
}

TEST(Reach, LevelToolNeedsARiserThatLiftsTheSpindleNoseOverTheTable) {
    // Plate 30 mm high; the tool's axis half a cutter over the wall that lies under it; the nose
    // begins 187 mm out and is 80 mm across.
    Job job = level_job(0.100);
    job.machine.table.diameter = 0.600;
    job.stack.tiers[0].shape = BlockShape{0.14, 0.14};
    const double nose_radius = 0.040, plate = 0.030, cutter_radius = 0.005, cut = 0.005;
    job.passes[0].path = {{0.034, 0, cut}};
    const double least =
        least_riser_height(job, job.passes[0], 1, fcl(), {.clearance = 2e-3}).value();
    EXPECT_NEAR(least, nose_radius + 2e-3 - plate - cutter_radius - cut, 1e-4 + 1e-6);
    job = edited(job, TierHeight{"riser", least});
    const ReachResult reach = reach_of(job);
    EXPECT_TRUE(reach.clear);
    EXPECT_EQ(reach.work_solid, "table");
    EXPECT_EQ(reach.tool_solid, "spindle nose");
}

TEST(Reach, BeyondNinetyTheNoseComesDownPastTheRimOfTheTable) {
    // At 110 deg the tool leans 20 deg below level. In the plane y = 0 the rim of the table is
    // (radius, 0); its distance from the nose's flank is that from the axis less the radius.
    Job job = level_job(0.050);
    job.machine.table.diameter = 0.360;
    const double tilt = 110 * kTestDegree;
    job.passes[0].tilt = tilt;
    job.passes[0].path = {{0.034, 0, 0.030}};
    job.passes[0].milling = Milling::slot;
    const Vector3d tip(0.034, 0, 0.030 + 0.050 + 0.030);
    const Vector3d rim(0.180, 0, 0);
    const Vector3d up(-std::cos(tilt), 0, std::sin(tilt));
    const double expected = (tip - rim).dot(up) - 0.040;
    const ReachResult reach = reach_of(job);
    EXPECT_EQ(reach.tool_solid, "spindle nose");
    EXPECT_EQ(reach.work_solid, "table");
    EXPECT_NEAR(reach.distance, expected, 1e-6);
    EXPECT_NEAR(reach.tilt_needed, tilt, 1e-12);
    EXPECT_TRUE(reach.clear);

    job.machine.tilt_max = 100 * kTestDegree;
    const ReachResult beyond = reach_of(job);
    EXPECT_FALSE(beyond.clear);
    EXPECT_EQ(beyond.fault, ReachFault::tilt);
    EXPECT_NEAR(beyond.needed, tilt, 1e-12);
    EXPECT_NEAR(beyond.available_to, 100 * kTestDegree, 1e-12);
    EXPECT_FALSE(least_of(job)) << "no stickout makes up for a missing tilt";
}

TEST(Reach, TurningStackAndToolTogetherChangesNothing) {
    const ReachResult straight = reach_of(level_job(0.040));
    for (const double turn : {35.0, 120.0, 240.0}) {
        Job job = level_job(0.040);
        for (Tier& tier : job.stack.tiers)
            if (!tier.placement.host) tier.placement.heading = turn * kTestDegree;
        job.passes[0].turn = turn * kTestDegree;
        const ReachResult turned = reach_of(job);
        EXPECT_EQ(turned.work_solid, straight.work_solid);
        EXPECT_NEAR(turned.distance, straight.distance, kPolygon);
    }
}

TEST(Reach, MirroredPassesReachAlike) {
    Job job = upright_job();
    const ReachResult right = reach_of(job);
    Pass& pass = job.passes[0];
    pass.wall = -Vector3d::UnitX();
    for (Vector3d& point : pass.path) point.x() = -point.x();
    const ReachResult left = reach_of(job);
    EXPECT_NEAR(left.distance, right.distance, 1e-6);
    EXPECT_EQ(left.tool_solid, right.tool_solid);
}

TEST(Reach, TheWholePathCountsNotItsStartAlone) {
    // A clamp stands beside the far end of the path, where the holder passes over it.
    Job job = upright_job();
    SideMass clamp{
        .name = "clamp", .mass = 0.2, .at = {0.050, -0.020, 0.100}, .size = {0.010, 0.010, 0.040}};
    job.stack.tiers[2].side = {clamp};
    const Pass whole = job.passes[0];
    job.passes[0].path.resize(1);
    const double at_start = reach_of(job).distance;
    job.passes[0].path = {whole.path[1]};
    const double at_end = reach_of(job).distance;
    job.passes[0] = whole;
    const ReachResult along = reach_of(job);
    EXPECT_LT(at_end, at_start);
    EXPECT_NEAR(along.distance, at_end, kPolygon);
    EXPECT_EQ(along.work_solid, "clamp");
}

TEST(Reach, ShankAsThickAsTheCutterRubsAlongATallerWall) {
    Job job = upright_job();
    job.tools[0].cutter.flute_length = 0.012;
    const ReachResult flush = reach_of(job);
    EXPECT_EQ(flush.rubs, "shank");
    EXPECT_TRUE(flush.clear) << "the stickout is long enough";
    EXPECT_EQ(judge_reach_level(flush).level, Level::marginal);

    job.tools[0].cutter.neck_diameter = 0.0099;
    job.tools[0].cutter.neck_length = 0.010;
    EXPECT_EQ(reach_of(job).rubs, "") << "0.05 mm of relief";
    EXPECT_EQ(judge_reach_level(reach_of(job)).level, Level::unflagged);

    job.tools[0].cutter.neck_length = 0;
    job.tools[0].cutter.shank_diameter = 0.012;
    EXPECT_EQ(reach_of(job).fault, ReachFault::hits);
    EXPECT_EQ(reach_of(job).tool_solid, "shank");
    EXPECT_FALSE(least_of(job));
}

TEST(Reach, CutterMayTouchWhatItCutsAndNothingElse) {
    Job job = upright_job();
    job.passes[0].path = {{0.035, 0, -0.001}};  // below the part's foot, into the riser
    job.passes[0].axial = 5e-3;
    job.tools[0].cutter.flute_length = 0.100;
    job.tools[0].cutter.stickout = 0.120;
    job.tools[0].cutter.overall = 0.200;
    const ReachResult reach = reach_of(job);
    EXPECT_EQ(reach.tool_solid, "cutter");
    EXPECT_EQ(reach.work_solid, "riser");
    EXPECT_EQ(reach.fault, ReachFault::hits);
    job.stack.tiers[2].joint.solid = true;  // one piece with the part: cut as well
    EXPECT_NE(reach_of(job).tool_solid, "cutter");
}

TEST(Reach, NoStickoutOfAShortCutterReachesIntoADeepPlace) {
    Job job = upright_job();
    job.tools[0].cutter.flute_length = 0.010;
    job.tools[0].cutter.neck_diameter = 0.009;
    job.tools[0].cutter.neck_length = 0.030;
    job.passes[0].axial = 5e-3;
    job.passes[0].path = {{0.035, 0, 0.005}};
    EXPECT_NEAR(reach_of(job).most_stickout.value(), 0.064, 1e-12);
    EXPECT_FALSE(least_of(job)) << "90 mm of wall above the tip, at most 64 mm stick out";
    job.tools[0].cutter.overall = 0.150;
    job.tools[0].cutter.neck_length = 0.085;
    EXPECT_NEAR(least_of(job).value(), 0.095, kHundredth) << "flutes and neck out of the holder";
}

TEST(Reach, SegmentsStandAsTheyAreAndOnlyTheUppermostGrows) {
    // 22 mm of cutter, then 40 mm of a neck of 8 mm, then the shank.
    Job job = upright_job();
    Cutter& cutter = job.tools[0].cutter;
    const Material carbide = test_carbide();
    cutter.segments = {{0.012, 0.006, carbide}, {0.008, 0.040, carbide}, {0.010, 0.022, carbide}};
    cutter.stickout = 0;
    cutter.flute_length = 0.022;
    cutter.overall = 0.120;
    EXPECT_NEAR(reach_of(job).distance, 0.068 - kTipBelowTop, 1e-6);
    job.passes[0].path = {{0.035, 0, 0.020}};  // 75 mm of wall above the tip
    EXPECT_EQ(reach_of(job).fault, ReachFault::hits);
    EXPECT_FALSE(least_of(job)) << "the shank is thicker than the cutter and meets the wall";
    cutter.segments[0].diameter = 0.008;
    EXPECT_NEAR(least_of(job).value(), 0.077, kHundredth);
    EXPECT_NEAR(stickout_range(job.tools[0], job.passes[0]).least, 0.062, 1e-12);
}

TEST(Reach, StateOfThePartCounts) {
    Job job = upright_job();
    const double whole = reach_of(job).distance;
    job.passes[0].path = {{0.035, 0, 0.060}};
    job.passes[0].axial = 5e-3;
    job.tools[0].cutter.flute_length = 0.040;
    job.tools[0].cutter.stickout = 0.058;
    EXPECT_NEAR(reach_of(job).distance, 0.058 - 0.035, 1e-6);
    job.passes[0].state = PassState{.shape = std::nullopt, .height = 0.070};
    EXPECT_NEAR(reach_of(job).distance, 0.058 - 0.010, 1e-6);
    EXPECT_GT(whole, 0);
}

TEST(Reach, UnknownHolderIsNotJudged) {
    Job job = upright_job();
    job.tools[0].holder_assumed = true;
    const ReachResult reach = reach_of(job);
    EXPECT_FALSE(reach.judged);
    EXPECT_FALSE(reach.clear);
    EXPECT_FALSE(reach.why_not.empty());
    EXPECT_FALSE(least_of(job));
    EXPECT_TRUE(
        reach_of_pass(job, job.passes[0], fcl(), {.clearance = 2e-3, .trust_assumed_holder = true})
            .judged);
}

TEST(Reach, WhatHasNoSizeIsSaid) {
    Job job = upright_job();
    job.machine.table.diameter = 0;
    job.machine.spindle.nose_diameter = 0;
    job.stack.tiers[1].side = {SideMass{.name = "sensor", .mass = 0.1, .at = {0.06, 0, 0.05}}};
    EXPECT_EQ(reach_of(job).left_out.size(), 3U);
    EXPECT_TRUE(reach_of(upright_job()).left_out.empty());
}

TEST(Reach, JawsAtTheRisersSideGoUpWithItWhereTheLeastHeightIsLookedFor) {
    // The holder's face comes down to 103 mm over the riser's top, the jaw reaches up to 110 mm
    // beside it. No riser helps, since the jaw is lifted along.
    Job job = upright_job();
    job.passes[0].path = {{0.035, 0, 0.045}};
    job.tools[0].cutter.flute_length = 0.050;
    const double top = job.stack.tiers[1].height;
    job.stack.tiers[1].side = {
        SideMass{.name = "jaw", .mass = 2, .at = {0.065, 0, top}, .size = {0.030, 0.060, 0.220}}};
    ASSERT_EQ(reach_of(job).work_solid, "jaw");
    ASSERT_FALSE(reach_of(job).clear);
    EXPECT_FALSE(least_riser_height(job, job.passes[0], 1, fcl(), {.clearance = 2e-3}).has_value());
}

}  // namespace
}  // namespace standfast
