#include "fea/studies/trade/trade_variations.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <stdexcept>

#include "fea/job/edits/apply_edits.hpp"
#include "fea/studies/trade/trade_ways.hpp"
#include "tests/fea/judgement/sample_job.hpp"

namespace standfast {
namespace {

const std::string kPass = "finish the tall wall", kTool = "long finisher";

/// Two risers, and a pass that may lean along its wall.
Job leaning_job() {
    Job job = test_job();
    job.passes[0].turn = 90 * kTestDegree;
    job.machine.tilt_max = 110 * kTestDegree;
    job.trade = Trade{.heights = {0.100, 0.150}, .stickouts = {0.036, 0.042, 0.050, 0.058}};
    job.trade->tilts = {{kPass, {0, 15 * kTestDegree, 30 * kTestDegree}}};
    return job;
}

std::vector<std::string> ids_of(const TradeGrid& grid) {
    std::vector<std::string> ids;
    for (const TradeOption& option : grid.options) ids.push_back(option.id);
    return ids;
}

bool said(const TradeGrid& grid, const std::string& words) {
    return std::any_of(grid.notes.begin(), grid.notes.end(), [&](const Assumption& note) {
        return note.text.find(words) != std::string::npos;
    });
}

TradeSettings quick() {
    TradeSettings settings;
    settings.method = StabilityMethod::zero_order;
    settings.draws = 0;
    settings.speeds = 30;
    return settings;
}

TEST(TradeVariations, EveryRiserIsTriedAtEveryTilt) {
    const TradeGrid grid = trade_grid(leaning_job());
    EXPECT_EQ(ids_of(grid), (std::vector<std::string>{"100 mm", "150 mm", "100 mm, tilt 15 deg",
                                                      "150 mm, tilt 15 deg", "100 mm, tilt 30 deg",
                                                      "150 mm, tilt 30 deg"}));
    EXPECT_NEAR(grid.options[2].job.passes[0].tilt, 15 * kTestDegree, 1e-12);
    EXPECT_EQ(std::count_if(grid.options.begin(), grid.options.end(),
                            [](const TradeOption& option) { return option.as_job; }),
              1);
}

TEST(TradeVariations, AMachineThatCannotTiltIsOfferedNone) {
    Job job = leaning_job();
    job.machine.tilt_max = 0;
    const TradeGrid grid = trade_grid(job);
    EXPECT_EQ(grid.options.size(), 2U);
    EXPECT_TRUE(said(grid, "beyond the tilt of the machine"));
    job.machine.tilt_max = 20 * kTestDegree;
    EXPECT_EQ(trade_grid(job).options.size(), 4U) << "as far as it tilts";
}

TEST(TradeVariations, ALeanThatTakesTheFlankOffItsWallIsNoChoice) {
    Job job = leaning_job();
    job.passes[0].turn = 0;
    const TradeGrid grid = trade_grid(job);
    EXPECT_EQ(grid.options.size(), 2U);
    EXPECT_TRUE(said(grid, "out of the wall"));
}

TEST(TradeVariations, APassThatIsNotThereIsAnError) {
    Job job = leaning_job();
    job.trade->tilts[0].pass = "another";
    EXPECT_THROW(trade_grid(job), std::domain_error);
}

TEST(TradeVariations, MaterialsAreThoseOfTheTierThatIsTradedAndNotOfTheShelf) {
    Job job = test_job();
    job.shelf = {ShelfRiser{.name = "shelf riser",
                            .shape = RoundShape{0.09},
                            .height = 0.120,
                            .material = test_steel()}};
    job.trade = Trade{.heights = {0.100, 0.150}};
    job.trade->materials = {test_steel(), test_aluminium()};
    const TradeGrid grid = trade_grid(job);
    EXPECT_EQ(ids_of(grid), (std::vector<std::string>{"100 mm", "shelf riser", "150 mm",
                                                      "100 mm, aluminium", "150 mm, aluminium"}));
    EXPECT_EQ(grid.options[3].job.stack.tiers[1].material.name, "aluminium");
}

/// A slim holder that grips 36 mm at least.
ShelfHolder slim_holder() {
    ShelfHolder slim;
    slim.name = "slim";
    slim.steps = {
        {.diameter = 0.05, .diameter_to = 0.05, .length = 0.03, .material = test_steel()},
        {.diameter = 0.02, .diameter_to = 0.02, .length = 0.10, .material = test_steel()}};
    slim.grip = test_joint(80e6, 200e6, 15e3);
    slim.grip_length = 0.040;
    slim.grip_least = 0.038;
    return slim;
}

TEST(TradeVariations, AToolInAnotherHolderIsWhatCheckWouldMakeOfIt) {
    Job job = test_job();
    job.holders = {slim_holder()};
    job.trade = Trade{.heights = {0.150}, .stickouts = {0.030, 0.045, 0.058, 0.064}};
    job.trade->holders = {{0, {0}}};
    const TradeStudy study(job, quick());
    ASSERT_EQ(study.grid().options.size(), 2U);
    EXPECT_EQ(study.grid().options[1].id, "150 mm, slim");
    const std::vector<double>& stickouts = study.grid().stickouts[0];
    EXPECT_EQ(stickouts.back(), 0.058) << "at 64 mm out the slim holder would grip 36 mm";
    EXPECT_EQ(study.count().tool_sides, 2 * stickouts.size());
    const TradePass own = study.option(0).passes.at(0), slim = study.option(1).passes.at(0);
    EXPECT_NEAR(slim.gauge_length - slim.stickout, 0.130, 1e-12);
    EXPECT_NEAR(own.gauge_length - own.stickout, 0.095, 1e-12);
    EXPECT_GT(std::abs(slim.push_off), std::abs(own.push_off)) << "it gives more";
}

TEST(TradeVariations, AHolderThatCannotHoldTheToolIsLeftOutAndSaid) {
    Job job = test_job();
    job.holders = {slim_holder()};
    job.holders[0].grip->kind.holds = std::array{0.012, 0.020};
    job.trade = Trade{.heights = {0.150}, .holders = {{0, {0}}}};
    const TradeGrid grid = trade_grid(job);
    EXPECT_EQ(grid.options.size(), 1U);
    EXPECT_TRUE(said(grid, "does not take the shank"));
}

TEST(TradeVariations, MoreThanAThousandChoicesAreRefusedByTheirCount) {
    Job job = leaning_job();
    job.trade->heights.clear();
    for (int i = 0; i < 100; ++i) job.trade->heights.push_back(0.100 + 0.001 * i);
    for (int i = 0; i < 20; ++i) job.trade->tilts[0].tilts.push_back(0.01 + 0.01 * i);
    EXPECT_THROW(trade_grid(job), std::domain_error);
}

TEST(TradeWays, LeaningInTheRoomOfATallerRiserIsAnAnswerWithBothFigures) {
    // What clears, as a shop knows it: upright the tool must be long on the low riser and may be
    // short on the tall one; leaning by 15 deg it may be short on either.
    Job job = leaning_job();
    job.trade->heights = {0.090, 0.150};
    TradeSettings settings = quick();
    settings.reach = [](const Job& asked, std::size_t, const std::vector<double>& stickouts) {
        const bool low = asked.stack.tiers[1].height < 0.120, upright = asked.passes[0].tilt == 0;
        TradeReach reach{.judged = true, .least_stickout = low && upright ? 0.058 : 0.036};
        for (const double stickout : stickouts) {
            reach.clear.push_back(stickout >= *reach.least_stickout - 1e-9);
        }
        return reach;
    };
    const TradeStudy study(job, settings);
    std::vector<TradeResult> results;
    for (std::size_t i = 0; i < study.grid().options.size(); ++i)
        results.push_back(study.option(i));
    const TradeRanking ranking = rank_trade(results);
    const std::vector<TradeWay> ways = trade_ways(results, ranking);
    ASSERT_EQ(ways.size(), 1U);
    EXPECT_EQ(ways[0].variation.what, Traded::tilt);
    EXPECT_EQ(ways[0].variation.of, kPass);
    ASSERT_TRUE(ways[0].without);
    const TradeResult &with = results[ways[0].with], &without = results[*ways[0].without];
    EXPECT_EQ(with.height, 0.090);
    EXPECT_EQ(without.height, 0.150) << "upright it takes 60 mm more riser";
    EXPECT_TRUE(ways[0].better);
    EXPECT_GE(with.removal, without.removal);
    EXPECT_LT(with.mass, without.mass);
}

TEST(TradeWays, WhereNothingWasVariedThereAreNone) {
    Job job = leaning_job();
    job.trade->tilts.clear();
    const TradeStudy study(job, quick());
    std::vector<TradeResult> results{study.option(0), study.option(1)};
    EXPECT_TRUE(trade_ways(results, rank_trade(results)).empty());
}

}  // namespace
}  // namespace standfast
