#include "fea/studies/trade/trade_options.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <stdexcept>

#include "fea/judgement/answer/weight.hpp"
#include "fea/stack/stack_model.hpp"
#include "tests/fea/judgement/sample_job.hpp"

namespace standfast {
namespace {

ShelfRiser shelf_riser(const std::string& name, double height) {
    return {.name = name,
            .shape = RoundShape{0.09},
            .top = std::nullopt,
            .height = height,
            .material = test_steel(),
            .joint = std::nullopt};
}

double top_of(const Stack& stack, std::size_t tier) {
    const TierFrame frame = tier_frames(stack)[tier];
    return frame.foot.z() + stack.tiers[tier].height;
}

/// A tower with a part at its side instead of on its top.
Job tower_job() {
    Job job = test_job();
    job.stack.tiers[2].placement.at = Eigen::Vector3d(0.05, 0, 0.11);
    job.stack.tiers[2].placement.lean = 90 * kTestDegree;
    return job;
}

TEST(TradeOptions, WithoutATradeTableNineHeightsAroundTheRisersOwnAreTried) {
    const Job job = test_job();
    const TradeGrid grid = trade_grid(job);
    EXPECT_EQ(grid.tier_name, "riser");
    ASSERT_EQ(grid.options.size(), 9U);
    EXPECT_DOUBLE_EQ(grid.options.front().height, 0.060);
    EXPECT_DOUBLE_EQ(grid.options.back().height, 0.240);
    EXPECT_EQ(std::count_if(grid.options.begin(), grid.options.end(),
                            [](const TradeOption& option) { return option.as_job; }),
              1);
    for (const TradeOption& option : grid.options)
        EXPECT_DOUBLE_EQ(option.job.stack.tiers[1].height, option.height);
    EXPECT_FALSE(grid.notes.empty()) << "what was chosen for the user is said";
}

TEST(TradeOptions, StickoutsKeepTheFlutesOutAndTheShankIn) {
    Job job = test_job();
    const std::vector<double> stickouts = trade_grid(job).stickouts.at(0);
    EXPECT_GE(stickouts.front(), job.tools[0].cutter.flute_length);
    // 100 mm overall, 40 mm of shank in the grip.
    EXPECT_LE(stickouts.back(), 0.060 + 1e-12);
    EXPECT_NE(std::find(stickouts.begin(), stickouts.end(), 0.058), stickouts.end());
    job.tools[0].cutter.overall.reset();
    EXPECT_DOUBLE_EQ(trade_grid(job).stickouts[0].back(), 0.058)
        << "no longer than the job's own without an overall length";
}

TEST(TradeOptions, RisersFromTheShelfStandInTheRisersPlace) {
    Job job = test_job();
    job.shelf = {shelf_riser("short", 0.080), shelf_riser("spacer", 0.040)};
    job.trade = Trade{.risers = {{0}, {1, 0}}};
    const TradeGrid grid = trade_grid(job);
    ASSERT_EQ(grid.options.size(), 3U);
    EXPECT_EQ(grid.options[0].id, "short");
    EXPECT_EQ(grid.options[1].id, "spacer + short");
    EXPECT_NEAR(grid.options[1].height, 0.120, 1e-12);
    EXPECT_TRUE(grid.options[2].as_job);
    const Job& stacked = grid.options[1].job;
    EXPECT_EQ(grid.options[1].tiers,
              (std::vector<std::string>{"plate", "spacer", "short", "part"}));
    EXPECT_EQ(stacked.passes[0].tier, 3U) << "the pass still cuts the part";
    EXPECT_NEAR(top_of(stacked.stack, 3), 0.030 + 0.120 + 0.095, 1e-12);
}

TEST(TradeOptions, TheSameRiserTwiceGetsANameOfItsOwn) {
    Job job = test_job();
    job.shelf = {shelf_riser("spacer", 0.040)};
    job.trade = Trade{.risers = {{0, 0}}};
    EXPECT_EQ(trade_grid(job).options[0].tiers,
              (std::vector<std::string>{"plate", "spacer", "spacer 2", "part"}));
}

/// The jaws of a dovetail at the riser's side, 2 kg.
SideMass jaws() {
    return {.name = "jaws", .mass = 2, .at = {0.060, 0, 0.130}, .size = {0.020, 0.060, 0.040}};
}

TEST(TradeOptions, AShelfRiserOfTheSameSizeIsTheJobsOwnWithAllThatHangsOnIt) {
    Job job = test_job();
    job.stack.tiers[1].side = {jaws()};
    job.stack.supports = {Support{.name = "prop", .tier = 1, .at = {0, 0.05, 0.100}}};
    ShelfRiser same = shelf_riser("same again", job.stack.tiers[1].height);
    same.shape = job.stack.tiers[1].shape;
    job.shelf = {same};
    job.trade = Trade{.risers = {{0}}};
    const TradeGrid grid = trade_grid(job);
    ASSERT_EQ(grid.options.size(), 2U);
    const Stack& own =
        grid.options[0].as_job ? grid.options[0].job.stack : grid.options[1].job.stack;
    const Stack& other =
        grid.options[0].as_job ? grid.options[1].job.stack : grid.options[0].job.stack;
    EXPECT_DOUBLE_EQ(stack_mass(other, tier_frames(other)).mass,
                     stack_mass(own, tier_frames(own)).mass);
    ASSERT_EQ(other.tiers[1].side.size(), 1U);
    EXPECT_EQ(other.tiers[1].side[0].at, own.tiers[1].side[0].at);
    EXPECT_EQ(other.supports[0].at, own.supports[0].at);
}

TEST(TradeOptions, AHoldIsTriedUnderEveryRiser) {
    Job job = test_job();
    job.trade = Trade{.heights = {0.100, 0.200}};
    TradeHold wide{.name = "wide dovetail", .tier = 2};
    wide.joint = job.stack.tiers[2].joint;
    wide.joint->dovetail->width = 0.045;
    job.trade->holds = {wide};
    const TradeGrid grid = trade_grid(job);
    ASSERT_EQ(grid.options.size(), 6U);
    EXPECT_EQ(grid.options[4].hold, "wide dovetail");
    EXPECT_DOUBLE_EQ(grid.options[4].job.stack.tiers[2].joint.dovetail->width, 0.045);
    EXPECT_DOUBLE_EQ(grid.options[1].job.stack.tiers[2].joint.dovetail->width, 0.032);
}

TEST(TradeOptions, WithoutAnythingUnderThePartThereIsNoRiserToTrade) {
    Job job = test_job();
    job.stack.tiers = {job.stack.tiers[2]};
    job.stack.tiers[0].placement = {};
    job.passes[0].tier = 0;
    EXPECT_THROW(trade_grid(job), std::domain_error);
    job.stack.tiers.clear();
    EXPECT_THROW(trade_grid(job), std::domain_error);
}

TEST(TradeOptions, ARiserThatCannotCarryThePartIsLeftOutAndSaid) {
    Job job = tower_job();
    job.trade = Trade{.tier = 1, .heights = {0.020, 0.200}};
    const TradeGrid grid = trade_grid(job);
    EXPECT_EQ(grid.options.size(), 2U);
    EXPECT_TRUE(std::any_of(grid.notes.begin(), grid.notes.end(), [](const Assumption& note) {
        return note.text.find("too low") != std::string::npos;
    }));
}

}  // namespace
}  // namespace standfast
