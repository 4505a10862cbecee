#include "fea/studies/trade/trade_options.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <stdexcept>

#include "fea/stack/stack_model.hpp"
#include "fea/studies/trade/trade_stack.hpp"
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

TEST(TradeOptions, ALongerStickoutTakesItsShankFromTheGrip) {
    const ToolChain tool = test_tool();
    EXPECT_DOUBLE_EQ(with_stickout(tool, 0.070).grip_length, 0.030);
    EXPECT_DOUBLE_EQ(with_stickout(tool, 0.050).grip_length, 0.040);
    EXPECT_DOUBLE_EQ(stickout_of(with_stickout(tool, 0.070).cutter), 0.070);
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

TEST(TradeOptions, APartAtTheSideOfATowerKeepsItsDistanceFromTheTop) {
    const Job job = tower_job();
    for (const double height : {0.120, 0.150, 0.200}) {
        const Job other = with_tier_height(job, 1, height);
        EXPECT_NEAR(height - other.stack.tiers[2].placement.at->z(), 0.040, 1e-12);
    }
    EXPECT_THROW(with_tier_height(job, 1, 0.030), std::domain_error);
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
