#include "fea/judgement/holding/holding.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "fea/judgement/answer/weight.hpp"
#include "fea/judgement/cut/cut_problem.hpp"
#include "fea/judgement/cut/headings.hpp"
#include "tests/fea/judgement/sample_job.hpp"

namespace standfast {
namespace {

HoldingResult holding_of(const Job& job) {
    const Pass& pass = job.passes[0];
    const std::vector<CutLoad> loads =
        cut_loads(rigid_cut(job, pass, *pass.axial), pass, tier_frames(job.stack)[pass.tier],
                  load_headings(job, pass), job.limits.wear_factor);
    return judge_holding(job, pass, loads);
}

Job roughing_job(double part_height = 0.095) {
    Job job = test_job(part_height);
    job.passes[0].radial = 4e-3;
    job.passes[0].axial = 10e-3;
    return job;
}

TEST(Holding, LooksAtEveryJointDownToTheTable) {
    const HoldingResult held = holding_of(roughing_job());
    ASSERT_EQ(held.joints.size(), 3U);
    EXPECT_EQ(held.joints[0].joint, "part joint");
    EXPECT_EQ(held.joints[2].joint, "plate joint");
    EXPECT_TRUE(held.judged);
    for (const JointHolding& joint : held.joints) EXPECT_GE(joint.factor, held.factor);
}

/// The roughing job's part between jaws; no friction of its own, so that the kind's counts.
Job vice_job() {
    Job job = roughing_job();
    Joint& joint = job.stack.tiers[2].joint;
    joint.dovetail.reset();
    joint.friction.reset();
    joint.kind.friction = 0.1;
    joint.jaws = Jaws{.length = 0.07, .width = 0.05, .grip = 0.008, .clamp = 25e3};
    return job;
}

TEST(Holding, ALessCarefulFigureStandsBehindTheCarefulOne) {
    const HoldingResult held = holding_of(vice_job());
    const JointHolding& part = held.joints.front();
    EXPECT_EQ(held.joint, part.joint);
    EXPECT_DOUBLE_EQ(held.care.wear_factor, Limits{}.wear_factor);
    EXPECT_TRUE(held.care.moments_added);
    EXPECT_DOUBLE_EQ(part.friction, 0.1);
    EXPECT_DOUBLE_EQ(part.usual_friction, 0.15);
    EXPECT_FALSE(part.seat_counted);
    // Sharp edge 1.5 and friction 1.5 alone make 2.25; moments and seat add.
    EXPECT_GT(part.less_careful, 2 * part.factor);
    EXPECT_GE(held.less_careful, held.factor);
    for (const JointHolding& joint : held.joints) {
        EXPECT_GE(joint.less_careful, std::min(kHoldingCap, joint.factor * Limits{}.wear_factor));
    }
}

TEST(Holding, ASeatCountsOnlyWhereTheJobStatesIt) {
    Job job = vice_job();
    const double unsaid = holding_of(job).joints.front().factor;
    job.stack.tiers[2].joint.jaws->seat = false;
    const HoldingResult hangs = holding_of(job);
    EXPECT_DOUBLE_EQ(hangs.joints.front().factor, unsaid);
    job.stack.tiers[2].joint.jaws->seat = true;
    const HoldingResult seated = holding_of(job);
    EXPECT_TRUE(seated.joints.front().seat_counted);
    EXPECT_GE(seated.joints.front().factor, unsaid);
    EXPECT_LE(hangs.joints.front().less_careful, seated.joints.front().less_careful);
}

TEST(Holding, FrictionTheJobGivesIsCountedInBothFigures) {
    Job job = vice_job();
    job.stack.tiers[2].joint.friction = 0.12;
    const JointHolding part = holding_of(job).joints.front();
    EXPECT_DOUBLE_EQ(part.friction, 0.12);
    EXPECT_DOUBLE_EQ(part.usual_friction, 0.12);
}

TEST(Holding, SupportsLeftOutAreCounted) {
    Job job = vice_job();
    EXPECT_EQ(holding_of(job).care.supports_left_out, 0);
    job.stack.supports.push_back({.name = "jack", .tier = 2});
    EXPECT_EQ(holding_of(job).care.supports_left_out, 1);
}

TEST(Holding, TheDovetailLetsGoBeforeTheBoltedPlate) {  // common practice, no source
    EXPECT_EQ(holding_of(roughing_job()).joint, "part joint");
}

// Common practice, no source: a taller part is never held better.
TEST(Holding, NeverImprovesWhenThePartIsTaller) {
    for (const double helix : {0.0, 20.0, 40.0, -30.0}) {
        for (const Milling milling : {Milling::down, Milling::up}) {
            double before = kHoldingCap;
            for (double height = 0.03; height < 0.30; height += 0.01) {
                Job job = roughing_job(height);
                job.tools[0].cutter.helix = helix * kTestDegree;
                job.passes[0].milling = milling;
                const double now = holding_of(job).factor;
                EXPECT_LE(now, before * (1 + 1e-8)) << height << " m, helix " << helix;
                before = now;
            }
            EXPECT_LT(before, kHoldingCap);
        }
    }
}

TEST(Holding, MoreHelixLowersItWhereTheToolStandsUpright) {
    for (const double depth : {1e-3, 10e-3, 25e-3}) {
        double before = kHoldingCap;
        for (double helix = 20; helix <= 60; helix += 5) {
            Job job = roughing_job();
            job.passes[0].axial = depth;
            job.tools[0].cutter.helix = helix * kTestDegree;
            const double now = holding_of(job).factor;
            EXPECT_LT(now, before) << "helix " << helix << " deg, depth " << depth;
            before = now;
        }
    }
}

TEST(Holding, ARightHandHelixLiftsThePartAndALeftHandOnePressesIt) {
    Job job = roughing_job();
    const auto largest_lift = [&] {
        const Pass& pass = job.passes[0];
        double lift = -1e9;
        for (const CutLoad& load :
             cut_loads(rigid_cut(job, pass, 5e-3), pass, tier_frames(job.stack)[2], {0.0}, 1.0))
            lift = std::max(lift, load.force.z());
        return lift;
    };
    EXPECT_GT(largest_lift(), 1);
    job.tools[0].cutter.helix = -job.tools[0].cutter.helix;
    EXPECT_LE(largest_lift(), 1e-9);
}

TEST(Holding, ThePartFeelsTheOppositeOfTheTool) {
    const Job job = roughing_job();
    const Pass& pass = job.passes[0];
    RigidCut cut = rigid_cut(job, pass, 5e-3);
    cut.cutter.helix = 0;  // then nothing is scaled
    const std::vector<CutLoad> loads = cut_loads(cut, pass, tier_frames(job.stack)[2], {0.0}, 1.5);
    const Eigen::Vector3d first = rigid_force(cut, 0);
    ASSERT_GT(first.norm(), 1);
    EXPECT_NEAR(loads[0].force.x(), -1.5 * first.x(), 1e-9 * first.norm());
    EXPECT_NEAR(loads[0].force.y(), -1.5 * first.y(), 1e-9 * first.norm());
}

TEST(Holding, WithoutAClampForceItIsNotJudged) {
    Job job = roughing_job();
    job.stack.tiers[2].joint.dovetail->clamp.reset();
    const HoldingResult held = holding_of(job);
    EXPECT_FALSE(held.judged);
    EXPECT_FALSE(held.joints[0].judged);
    EXPECT_TRUE(held.joints[1].judged);
    EXPECT_NE(held.why_not.find("clamp force"), std::string::npos);
}

TEST(Holding, ASolidJointHoldsButAThinFootMayBreak) {
    Job job = roughing_job();
    for (Tier& tier : job.stack.tiers) tier.joint.solid = true;
    EXPECT_TRUE(holding_of(job).judged);
    EXPECT_GT(holding_of(job).factor, 10);
    job.stack.tiers[2].shape = BlockShape{0.070, 0.001};
    const HoldingResult thin = holding_of(job);
    EXPECT_EQ(thin.mode, HoldingMode::neck_stress);
    EXPECT_EQ(thin.joint, "part joint");
    EXPECT_LT(thin.factor, 2);
}

TEST(Holding, ACutThatLeavesLessThanTheDovetailFreesThePart) {
    Job job = roughing_job();
    job.passes[0].state = PassState{.shape = BlockShape{0.070, 0.030}, .height = 0.095};
    HoldingResult held = holding_of(job);
    EXPECT_FALSE(held.judged);
    EXPECT_EQ(held.mode, HoldingMode::frees_part);

    job = roughing_job();
    job.passes[0].path = {{0.0, 0.0, 0.0}};  // parting off, across the neck
    held = holding_of(job);
    EXPECT_EQ(held.mode, HoldingMode::frees_part);

    job.passes[0].path = {{0.035, 0.0, 0.0}};  // down the outside to the dovetail
    EXPECT_NE(holding_of(job).mode, HoldingMode::frees_part);
}

TEST(Holding, MoreClampForceAndMoreTorqueHoldMore) {
    Job job = roughing_job();
    const double before = holding_of(job).factor;
    job.stack.tiers[2].joint.dovetail->clamp = 25e3;
    EXPECT_GT(holding_of(job).factor, before);

    Joint& riser = job.stack.tiers[1].joint;
    riser.preload.reset();
    riser.screws = Screws{.count = 4, .diameter = 0.012, .torque = 40};
    const double loose = holding_of(job).joints[1].factor;
    riser.screws->torque = 85;
    EXPECT_NEAR(holding_of(job).joints[1].factor, loose * 85 / 40, 0.05 * loose);
}

TEST(Holding, ARigidStackHasNothingToLetGoAndMeasuredModesHideIt) {
    Job job = roughing_job();
    job.stack = Stack{};
    job.stack.rigid = true;
    EXPECT_TRUE(judge_holding(job, job.passes[0], {}).judged);
    job.stack.rigid = false;
    job.stack.modes.push_back({});
    EXPECT_FALSE(judge_holding(job, job.passes[0], {}).judged);
}

TEST(Weight, OfABlockATaperAndASideMass) {
    Tier block = test_tier("b", test_steel(), BlockShape{0.1, 0.2}, 0.3, {});
    EXPECT_NEAR(tier_mass(block).mass, 0.1 * 0.2 * 0.3 * 7850, 1e-9);
    EXPECT_NEAR(tier_mass(block).centre.z(), 0.15, 1e-12);

    Tier cone = test_tier("c", test_steel(), RoundShape{0.2}, 0.3, {});
    cone.top = RoundShape{0.1};
    // Frustum: pi h (D^2 + D d + d^2)/12; centre h (D^2 + 2 D d + 3 d^2)/(4 (D^2 + D d + d^2)).
    EXPECT_NEAR(tier_mass(cone).mass, std::numbers::pi * 0.3 * (0.07) / 12 * 7850, 1e-9);
    EXPECT_NEAR(tier_mass(cone).centre.z(), 0.3 * (0.04 + 0.04 + 0.03) / (4 * 0.07), 1e-12);

    block.side.push_back({.name = "clamp", .mass = 2, .at = {0.1, 0, 0.05}, .size = {0, 0, 0}});
    EXPECT_NEAR(tier_mass(block).mass, 47.1 + 2, 1e-9);
    EXPECT_NEAR(tier_mass(block).centre.x(), 2 * 0.1 / 49.1, 1e-12);
}

TEST(Weight, TiltingTheTableTurnsGravityAndTiltingTheHeadDoesNot) {
    Job job = test_job();
    Pass pass = job.passes[0];
    pass.tilt = 90 * kTestDegree;
    EXPECT_NEAR(gravity_direction(job.machine, pass).x(), -1, 1e-12);
    EXPECT_GT(judge_weight(job.machine, job.stack, pass).tilt_moment, 1);
    job.machine.table_turns = false;
    EXPECT_NEAR(gravity_direction(job.machine, pass).z(), -1, 1e-12);
    EXPECT_NEAR(judge_weight(job.machine, job.stack, pass).tilt_moment, 0, 1e-9);
}

TEST(Weight, TiltMomentIsWeightTimesItsArm) {
    Job job = test_job();
    Pass pass = job.passes[0];
    const PointMass mass = stack_mass(job.stack, tier_frames(job.stack));
    pass.tilt = 30 * kTestDegree;
    EXPECT_NEAR(judge_weight(job.machine, job.stack, pass).tilt_moment,
                mass.mass * kGravity * mass.centre.z() * std::sin(pass.tilt), 1e-9);
}

}  // namespace
}  // namespace standfast
