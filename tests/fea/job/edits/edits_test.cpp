#include "fea/job/edits/apply_edits.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <stdexcept>

#include "fea/job/edits/beside_tier.hpp"
#include "fea/job/edits/section_scale.hpp"
#include "fea/job/edits/tool_edits.hpp"
#include "fea/stack/frames.hpp"
#include "tests/fea/judgement/sample_job.hpp"

namespace standfast {
namespace {

using Eigen::Vector3d;

constexpr std::size_t kRiser = 1, kPart = 2;  // of the sample stack
const std::string kPass = "finish the tall wall", kTool = "long finisher";

std::string refusal(const Job& job, const Edit& edit) {
    try {
        edited(job, edit);
    } catch (const std::domain_error& error) {
        return error.what();
    }
    return "";
}

/// A riser with a part on a face of it, jaws at its side and a prop.
Job loaded_job() {
    Job job = test_job();
    Tier guest = job.stack.tiers[kPart];
    guest.name = "part at the side";
    guest.placement = {.host = kRiser, .at = Vector3d(0.050, 0, 0.110), .lean = 90 * kTestDegree};
    job.stack.tiers.push_back(guest);
    job.stack.tiers[kRiser].side = {
        SideMass{.name = "jaws", .mass = 2, .at = {0, 0.060, 0.130}, .size = {0.06, 0.02, 0.04}}};
    job.stack.supports = {Support{.name = "prop", .tier = kRiser, .at = {-0.050, 0, 0.100}}};
    return job;
}

TEST(Edits, SetWhatTheySay) {
    const Job job = test_job();
    const Job changed = edited(
        job, std::vector<Edit>{Stickout{kTool, 0.05}, ToothCount{kTool, 3}, GripLoss{kTool, 0.1},
                               TierHeight{"riser", 0.1},
                               TierSection{"riser", RoundShape{0.12}, std::nullopt},
                               TierMaterial{"riser", test_aluminium()},
                               DovetailSize{.tier = "part", .width = 0.04, .length = std::nullopt},
                               JointLoss{"riser", 0.09}, SolidJoint{"plate"},
                               PassSpeed{kPass, SpindleSpeed{700}}, AxialDepth{kPass, 2e-3},
                               RadialDepth{kPass, 0.2e-3}, FeedPerTooth{kPass, 0.05e-3}});
    EXPECT_EQ(changed.tools[0].cutter.stickout, 0.05);
    EXPECT_EQ(changed.tools[0].cutter.teeth, 3);
    EXPECT_EQ(changed.tools[0].grip.given.loss, 0.1);
    EXPECT_EQ(changed.stack.tiers[kRiser].height, 0.1);
    EXPECT_EQ(std::get<RoundShape>(changed.stack.tiers[kRiser].shape).diameter, 0.12);
    EXPECT_EQ(changed.stack.tiers[kRiser].material.name, "aluminium");
    EXPECT_EQ(changed.stack.tiers[kRiser].joint.given.loss, 0.09);
    EXPECT_EQ(changed.stack.tiers[kPart].joint.dovetail->width, 0.04);
    EXPECT_EQ(changed.stack.tiers[kPart].joint.dovetail->length, 0.060);
    EXPECT_TRUE(changed.stack.tiers[0].joint.solid);
    EXPECT_EQ(changed.passes[0].speed->radians_per_second, 700);
    EXPECT_EQ(changed.passes[0].axial, 2e-3);
    EXPECT_EQ(changed.passes[0].radial, 0.2e-3);
    EXPECT_EQ(changed.passes[0].feed_per_tooth, 0.05e-3);
    EXPECT_EQ(job.stack.tiers[kRiser].height, 0.150) << "the job itself stays";
}

TEST(Edits, ANameThatIsNotThereIsAnErrorAndNeverTheFirst) {
    const Job job = test_job();
    EXPECT_EQ(refusal(job, TierHeight{"nobody", 0.1}), "no tier is called \"nobody\"");
    EXPECT_EQ(refusal(job, Stickout{"nobody", 0.05}), "no tool is called \"nobody\"");
    EXPECT_EQ(refusal(job, AxialDepth{"nobody", 1e-3}), "no pass is called \"nobody\"");
    Job twins = job;
    twins.stack.tiers[0].name = "riser";
    EXPECT_EQ(refusal(twins, TierHeight{"riser", 0.1}), "more than one tier is called \"riser\"");
}

TEST(Edits, RefuseWhatCannotBe) {
    Job job = test_job();
    EXPECT_NE(refusal(job, TierHeight{"riser", 0}), "");
    EXPECT_NE(refusal(job, Stickout{kTool, 0.100}), "") << "all of the cutter";
    EXPECT_NE(refusal(job, DovetailSize{.tier = "riser", .width = 0.03, .length = {}}), "");
    EXPECT_NE(refusal(job, ToothPitch{kTool, {1, 2, 3}}), "") << "the cutter has four teeth";
    EXPECT_NE(refusal(job, ShelfRisers{"part", {ShelfRiser{.name = "s", .height = 0.1}}}), "")
        << "the part is what is cut";
    job.stack.tiers[kRiser].lump = RigidBody{.mass = 5};
    EXPECT_NE(refusal(job, TierHeight{"riser", 0.1}), "");
    EXPECT_EQ(refusal(job, TierHeight{"riser", job.stack.tiers[kRiser].height}), "");
}

TEST(Edits, WhatIsBesideATierKeepsItsDistanceFromTheTop) {
    const Job job = loaded_job();
    for (const double height : {0.060, 0.150, 0.300}) {
        const Stack stack = edited(job, TierHeight{"riser", height}).stack;
        EXPECT_NEAR(height - stack.tiers[3].placement.at->z(), 0.040, 1e-12);
        EXPECT_NEAR(height - stack.tiers[kRiser].side[0].at.z(), 0.020, 1e-12);
        EXPECT_NEAR(height - stack.supports[0].at.z(), 0.050, 1e-12);
        EXPECT_EQ(stack.tiers[3].placement.at->x(), 0.050) << "across it nothing moves";
        EXPECT_FALSE(stack.tiers[kPart].placement.at) << "what is on the top stays there";
    }
}

TEST(Edits, NothingBesideATierMayComeBelowItsFoot) {
    const Job job = loaded_job();
    EXPECT_NEAR(least_height(job, kRiser), 0.050, 1e-12) << "where the prop is at the foot";
    EXPECT_EQ(refusal(job, TierHeight{"riser", 0.0501}), "");
    EXPECT_EQ(refusal(job, TierHeight{"riser", 0.0499}),
              "\"riser\" would be too low for \"prop\" at its side");
    EXPECT_EQ(least_height(test_job(), kRiser), 0);
}

TEST(Edits, ACutKeepsItsDistanceFromTheTopOfATallerPart) {
    Job job = test_job();
    job.passes[0].state = PassState{.shape = std::nullopt, .height = 0.100};
    const Job taller = edited(job, TierHeight{"part", 0.105});
    EXPECT_NEAR(taller.passes[0].path[0].z(), job.passes[0].path[0].z() + 0.010, 1e-12);
    EXPECT_NEAR(*taller.passes[0].state->height, 0.110, 1e-12);
}

TEST(Edits, AWiderTierMovesWhatIsOnItsSurfaceOutAndNothingElse) {
    Job job = loaded_job();
    Tier on_top = job.stack.tiers[kPart];
    on_top.name = "stop";
    on_top.placement = {.host = kRiser, .at = Vector3d(0.020, 0, 0.150)};
    job.stack.tiers.push_back(on_top);
    const Stack wider =
        edited(job, TierSection{"riser", BlockShape{0.140, 0.120}, std::nullopt}).stack;
    EXPECT_NEAR(wider.tiers[3].placement.at->x(), 0.070, 1e-12) << "on the face";
    EXPECT_NEAR(wider.tiers[kRiser].side[0].at.y(), 0.070, 1e-12) << "10 mm off the surface";
    EXPECT_NEAR(wider.supports[0].at.x(), -0.070, 1e-12);
    EXPECT_EQ(wider.tiers[4].placement.at->x(), 0.020) << "on the top, within the section";
    EXPECT_EQ(wider.tiers[3].placement.at->z(), 0.110);
}

TEST(Edits, OnATaperTheSurfaceIsThatOfTheHeight) {
    Job job = loaded_job();
    Tier& riser = job.stack.tiers[kRiser];
    riser.top = RoundShape{0.04};  // 100 mm at the foot, 40 mm at 150 mm: 56 mm at 110 mm
    job.stack.tiers[3].placement.at = Vector3d(0.028, 0, 0.110);
    const Stack straight = edited(job, TierSection{"riser", RoundShape{0.10}, std::nullopt}).stack;
    EXPECT_NEAR(straight.tiers[3].placement.at->x(), 0.050, 1e-12);
}

TEST(Edits, APileOfRisersTakesWhatHangsOnItWhereItHangs) {
    const Job job = loaded_job();
    const ShelfRiser upper{.name = "upper", .shape = RoundShape{0.08}, .height = 0.030};
    const ShelfRiser lower{.name = "lower", .shape = RoundShape{0.12}, .height = 0.120};
    const Job pile = edited(job, ShelfRisers{"riser", {lower, upper}});
    const std::vector<Tier>& tiers = pile.stack.tiers;
    ASSERT_EQ(tiers.size(), 5U);
    EXPECT_EQ(tiers[2].name, "upper");
    // 20 mm below the top is on the upper one, 40 and 50 mm below it on the lower.
    ASSERT_EQ(tiers[2].side.size(), 1U);
    EXPECT_NEAR(tiers[2].side[0].at.z(), 0.010, 1e-12);
    EXPECT_NEAR(tiers[2].side[0].at.y(), 0.050, 1e-12) << "10 mm off a surface of 80 mm";
    EXPECT_EQ(tiers[4].placement.host, 1U);
    EXPECT_NEAR(tiers[4].placement.at->z(), 0.110, 1e-12);
    EXPECT_NEAR(tiers[4].placement.at->x(), 0.060, 1e-12);
    EXPECT_EQ(pile.stack.supports[0].tier, 1U);
    EXPECT_EQ(tiers[3].placement.host, 2U) << "what stood on the top stands on the uppermost";
    EXPECT_EQ(pile.passes[0].tier, 3U);
}

TEST(Edits, TheGripFollowsTheStickoutAndComesBackWithIt) {
    ToolChain tool = test_tool();  // 100 mm long, 58 mm out
    tool.grip_full = 0.040;
    const ToolChain longer = with_stickout(tool, 0.070);
    EXPECT_DOUBLE_EQ(longer.grip_length, 0.030);
    EXPECT_DOUBLE_EQ(with_stickout(longer, 0.055).grip_length, 0.040);
    EXPECT_DOUBLE_EQ(stickout_of(longer.cutter), 0.070);
    tool.cutter.overall.reset();
    EXPECT_DOUBLE_EQ(with_stickout(tool, 0.070).grip_length, 0.040);
}

TEST(Edits, AnotherStickoutLengthensTheUppermostSegmentAlone) {
    ToolChain tool = test_tool();
    tool.cutter.segments = {{0.010, 0.030, test_carbide()}, {0.008, 0.028, test_carbide()}};
    tool.cutter.stickout = 0;  // their sum
    const Cutter longer = with_stickout(tool, 0.063).cutter;
    EXPECT_NEAR(longer.segments[0].length, 0.035, 1e-12);
    EXPECT_EQ(longer.segments[1].length, 0.028);
    EXPECT_EQ(longer.stickout, 0.063);
    EXPECT_THROW(with_stickout(tool, 0.027), std::domain_error);
}

ShelfHolder slim_holder() {
    ShelfHolder slim;
    slim.name = "slim";
    slim.steps = {
        {.diameter = 0.05, .diameter_to = 0.05, .length = 0.03, .material = test_steel()},
        {.diameter = 0.02, .diameter_to = 0.02, .length = 0.10, .material = test_steel()}};
    return slim;
}

TEST(Edits, AnotherHolderKeepsTheStickoutAndMovesTheGaugeLine) {
    const Job job = test_job();
    ShelfHolder slim = slim_holder();
    slim.grip = test_joint(90e6, 200e6, 20e3);
    slim.grip_length = 0.050;
    const ToolChain& tool = edited(job, ToolHolder{kTool, slim}).tools[0];
    EXPECT_DOUBLE_EQ(tool.cutter.stickout, 0.058);
    EXPECT_DOUBLE_EQ(gauge_length(tool), 0.130 + 0.058);
    EXPECT_EQ((*tool.grip.given.lateral)[0], 90e6);
    EXPECT_DOUBLE_EQ(tool.grip_length, 0.042) << "no more shank is left inside";
    EXPECT_EQ((*edited(job, ToolHolder{kTool, slim_holder()}).tools[0].grip.given.lateral)[0],
              150e6)
        << "one that says nothing of its grip holds as the tool's own";
}

TEST(Edits, AHolderThatDoesNotTakeTheShankIsRefused) {
    const Job job = test_job();
    ShelfHolder other = slim_holder();
    other.grip = test_joint(90e6, 200e6, 20e3);
    other.grip->kind.holds = std::array{0.012, 0.020};  // the shank is 10 mm
    EXPECT_NE(refusal(job, ToolHolder{kTool, other}), "");
    other.grip->kind.holds = std::array{0.006, 0.010};
    EXPECT_EQ(refusal(job, ToolHolder{kTool, other}), "");
    other.grip_least = 0.043;  // 42 mm are left inside
    EXPECT_NE(refusal(job, ToolHolder{kTool, other}), "");
}

TEST(Edits, APassThatLeansKeepsTheDirectionOfItsFeed) {
    Job job = test_job();
    Pass& pass = job.passes[0];
    pass.wall.reset();
    pass.turn = 30 * kTestDegree;
    for (const double heading : {0.0, 70.0, 200.0}) {
        pass.feed_heading = heading * kTestDegree;
        const Vector3d before = tool_axes(pass.tilt, pass.turn, *pass.feed_heading).col(0);
        const Pass leaning = edited(job, PassTilt{kPass, 15 * kTestDegree}).passes[0];
        const Eigen::Matrix3d axes = tool_axes(leaning.tilt, leaning.turn, *leaning.feed_heading);
        // The feed before, less its part along the tool: nothing of it is left across the feed now.
        EXPECT_NEAR(axes.col(1).dot(before), 0, 1e-12) << heading;
        EXPECT_GT(axes.col(0).dot(before), 0.9) << heading;
    }
    pass.feed_heading = 0;  // the way it leans
    EXPECT_NE(refusal(job, PassTilt{kPass, 88 * kTestDegree}), "") << "it would plunge";
}

TEST(Edits, AFlankMayNotLeanOutOfTheWallThatItFinishes) {
    Job job = test_job();  // the wall faces +x
    EXPECT_NE(refusal(job, PassTilt{kPass, 15 * kTestDegree}), "") << "toward +x, off the wall";
    job.passes[0].turn = 90 * kTestDegree;
    EXPECT_EQ(refusal(job, PassTilt{kPass, 15 * kTestDegree}), "") << "along the wall";
    job.passes[0].turn = 0;
    job.tools[0].cutter.corner_radius = job.tools[0].cutter.diameter / 2;
    EXPECT_EQ(refusal(job, PassTilt{kPass, 15 * kTestDegree}), "") << "a ball touches all the same";
}

TEST(Edits, ThatSetTheSameThingAreKnown) {
    EXPECT_TRUE(set_the_same(TierHeight{"a", 1}, TierHeight{"a", 2}));
    EXPECT_FALSE(set_the_same(TierHeight{"a", 1}, TierHeight{"b", 1}));
    EXPECT_FALSE(set_the_same(TierHeight{"a", 1}, TierMaterial{"a", {}}));
    EXPECT_TRUE(set_the_same(SolidJoint{"a"}, JointLoss{"a", 0.1}));
    EXPECT_TRUE(set_the_same(ShelfRisers{"a", {}}, TierHeight{"a", 1}));
    EXPECT_FALSE(set_the_same(AxialDepth{"a", 1}, RadialDepth{"a", 1}));
    EXPECT_TRUE(changes_tool({Stickout{"t", 1}}) && !changes_work({Stickout{"t", 1}}));
    EXPECT_TRUE(changes_work({PassTilt{"p", 1}}) && !changes_tool({PassTilt{"p", 1}}));
    EXPECT_FALSE(changes_work({AxialDepth{"p", 1}, FeedPerTooth{"p", 1}}));
}

TEST(Edits, AWiderTubeKeepsItsWall) {
    const Tier tube = test_tier("t", test_steel(), TubeShape{0.110, 0.070}, 0.1, {});
    const auto wider = std::get<TubeShape>(scaled_section(tube, 1.25)->shape);
    EXPECT_NEAR(wider.outer, 0.1375, 1e-12);
    EXPECT_NEAR(wider.outer - wider.inner, 0.040, 1e-12);
    const Tier known_by_figures = test_tier("t", test_steel(), GeneralShape{1, 1, 1, 1}, 0.1, {});
    EXPECT_FALSE(scaled_section(known_by_figures, 1.25));
}

}  // namespace
}  // namespace standfast
