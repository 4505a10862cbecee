#include "fea/studies/trade/trade.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <thread>

#include "fea/job/edits/tool_edits.hpp"
#include "fea/judgement/cut/speed_grid.hpp"
#include "fea/judgement/pass/check.hpp"
#include "fea/studies/trade/trade_ranking.hpp"
#include "tests/fea/judgement/sample_job.hpp"

namespace standfast {
namespace {

TradeSettings quick() {
    TradeSettings settings;
    settings.method = StabilityMethod::zero_order;
    settings.draws = 0;
    settings.speeds = 30;
    return settings;
}

/// Reach as a shop knows it: what the riser gains in height the tool may lose in length.
TradeReachOf tall_riser_short_tool(double least_at_zero) {
    return [least_at_zero](const Job& job, std::size_t, const std::vector<double>& stickouts) {
        TradeReach reach;
        reach.judged = true;
        reach.least_stickout = least_at_zero - 0.2 * job.stack.tiers[1].height;
        for (const double stickout : stickouts)
            reach.clear.push_back(stickout >= *reach.least_stickout - 1e-9);
        reach.nearest = "holder against plate";
        return reach;
    };
}

Job traded_job() {
    Job job = test_job();
    job.trade = Trade{.heights = {0.060, 0.100, 0.150, 0.200, 0.260},
                      .stickouts = {0.030, 0.036, 0.042, 0.050, 0.058}};
    return job;
}

std::vector<TradeResult> all_options(TradeStudy& study) {
    std::vector<TradeResult> results;
    for (std::size_t i = 0; i < study.grid().options.size(); ++i)
        results.push_back(study.option(i));
    return results;
}

/// A long tool on a stiff stack: where the tool gives nearly everything, its length decides where
/// the pockets lie.
Job long_tool_job() {
    Job job = test_job(0.050, 0.040);
    job.tools[0].cutter.overall = 0.140;
    job.tools[0].cutter.stickout = 0.060;
    job.tools[0].cutter.teeth = 2;
    job.machine.fastest = SpindleSpeed::from_rpm(18000);
    job.passes[0].axial = 0.002;
    job.passes[0].radial = 0.004;
    job.passes[0].tolerance.reset();
    job.passes[0].leave = 0.3e-3;
    job.trade = Trade{.heights = {0.040}};
    for (int i = 0; i <= 14; ++i) job.trade->stickouts.push_back(0.060 + 0.002 * i);
    return job;
}

TEST(Trade, EachSideIsSolvedOnceHoweverManyCellsCombineThem) {
    Job job = traded_job();
    // A second pass at the same place with the same tool asks for no side of its own.
    job.passes.push_back(job.passes[0]);
    job.passes[1].name = "again, lighter";
    job.passes[1].radial /= 2;
    TradeStudy study(job, quick());
    all_options(study);
    EXPECT_EQ(study.count().tool_sides, 5U);
    EXPECT_EQ(study.count().work_sides, 5U);
    EXPECT_EQ(study.count().cells, 5U * 2U * 5U);
}

TEST(Trade, TheChosenOptionIsWhatCheckSaysOfTheEditedJob) {
    const Job job = traded_job();
    TradeStudy study(job, quick());
    const TradeResult traded = study.option(1);
    const TradePass& pass = traded.passes[0];
    Job edited = job;
    edited.stack.tiers[1].height = 0.100;
    edited.tools[0] = with_stickout(job.tools[0], pass.stickout);
    CheckOptions options;
    options.method = StabilityMethod::zero_order;
    options.speeds = {*job.passes[0].speed};
    options.advise = false;
    const PassReport checked = check_job(edited, options).passes[0];
    ASSERT_TRUE(pass.limit.has_value());
    EXPECT_DOUBLE_EQ(*pass.limit, *checked.at_programmed.limit);
    EXPECT_EQ(pass.error.has_value(), checked.error_at_programmed.has_value());
    EXPECT_DOUBLE_EQ(pass.push_off, checked.statics.error);
    EXPECT_DOUBLE_EQ(pass.gauge_length, checked.gauge_length);
    EXPECT_EQ(pass.verdict.level, checked.verdict.level);
    EXPECT_EQ(pass.verdict.reasons, checked.verdict.reasons);
    EXPECT_DOUBLE_EQ(traded.mass, checked.weight.mass);
}

TEST(Trade, ByTheDelayEquationTooTheChosenOptionIsWhatCheckSaysOfIt) {
    const Job job = traded_job();
    TradeSettings settings = quick();
    settings.method = StabilityMethod::periodic;
    TradeStudy study(job, settings);
    const TradePass pass = study.option(1).passes[0];
    Job edited = job;
    edited.stack.tiers[1].height = 0.100;
    edited.tools[0] = with_stickout(job.tools[0], pass.stickout);
    CheckOptions options;
    options.method = StabilityMethod::periodic;
    options.speeds = {*job.passes[0].speed};
    options.advise = false;
    const PassReport checked = check_job(edited, options).passes[0];
    ASSERT_TRUE(pass.limit && checked.at_programmed.limit);
    EXPECT_NEAR(*pass.limit, *checked.at_programmed.limit, 1e-3 * *pass.limit);
    EXPECT_EQ(pass.verdict.level, checked.verdict.level);
}

TEST(Trade, EverySpeedTellsLimitsAtAllSpeedsOfWhatMayBeChosen) {
    TradeSettings settings = quick();
    settings.method = StabilityMethod::periodic;
    for (const bool every_speed : {false, true}) {
        settings.every_speed = every_speed;
        TradeStudy study(traded_job(), settings);
        const TradePass pass = study.option(1).passes[0];
        int worked_out = 0;
        for (const TradeCell& cell : pass.cells) {
            worked_out += cell.worked_out;
            const bool chosen_from = cell.stickout >= 0.058 - 1e-9;
            EXPECT_EQ(cell.limits.size(), every_speed && chosen_from ? pass.speeds.size() : 0U);
        }
        EXPECT_GT(worked_out, 0);
    }
}

TEST(Trade, TheDefaultFindsNearlyWhatEverySpeedFinds) {
    for (const double riser : {0.060, 0.200}) {
        Job job = long_tool_job();
        job.trade->heights = {riser};
        TradeSettings settings = quick();
        settings.method = StabilityMethod::periodic;
        settings.speeds = 60;
        settings.reach = tall_riser_short_tool(0.068);
        TradeStudy quick_study(job, settings);
        settings.every_speed = true;
        TradeStudy whole_study(job, settings);
        const double found = quick_study.option(0).removal, most = whole_study.option(0).removal;
        EXPECT_GE(found, 0.95 * most) << riser;
    }
}

/// The job as a trade's option has it, for check.
Job edited_job(const TradeResult& result, bool depth_left_out) {
    Job job = traded_job();
    job.stack.tiers[1].height = result.height;
    job.tools[0] = with_stickout(job.tools[0], result.passes[0].stickout);
    job.passes[0].speed = *result.passes[0].best_speed;
    job.passes[0].axial = *result.passes[0].usable;
    if (depth_left_out) job.passes[0].axial.reset();
    return job;
}

PassReport check_at(const Job& job, int draws) {
    CheckOptions options;
    options.method = StabilityMethod::periodic;
    options.speeds = {*job.passes[0].speed};
    options.odds.draws = draws;
    options.advise = false;
    return check_job(job, options).passes[0];
}

TEST(Trade, CheckWithoutADepthRecommendsTheOneThatTheTradePromises) {
    TradeSettings settings = quick();
    settings.method = StabilityMethod::periodic;
    settings.draws = 32;
    TradeStudy study(traded_job(), settings);
    for (const std::size_t option : {std::size_t{1}, std::size_t{3}}) {
        const TradeResult result = study.option(option);
        ASSERT_TRUE(result.passes[0].usable);
        const PassReport checked = check_at(edited_job(result, true), 32);
        ASSERT_TRUE(checked.best);
        // Both end within 1 % of the deepest that holds, from other guesses.
        EXPECT_NEAR(*result.passes[0].usable, checked.best->depth, 0.02 * checked.best->depth);
    }
}

TEST(Trade, TheOddsAtTheBestSpeedAreThoseOfItsOwnDepth) {
    TradeSettings settings = quick();
    settings.method = StabilityMethod::periodic;
    settings.draws = 16;
    TradeStudy study(traded_job(), settings);
    const TradeResult result = study.option(2);
    const TradePass& pass = result.passes[0];
    ASSERT_TRUE(pass.usable && pass.best_speed && pass.best_probability);
    const PassReport checked = check_at(edited_job(result, false), 16);
    ASSERT_TRUE(checked.odds);
    EXPECT_DOUBLE_EQ(*pass.best_probability, checked.odds->at_judged);
    EXPECT_LE(checked.verdict.level, Level::marginal) << "a hold that is not judged at most";
}

TEST(Trade, WhatIsPromisedHoldsHalfALeastBandToEitherSide) {
    TradeSettings settings = quick();
    settings.method = StabilityMethod::periodic;
    settings.draws = 32;
    TradeStudy study(traded_job(), settings);
    const TradeResult result = study.option(2);
    for (const double factor : {0.991, 1.0, 1.009}) {
        Job job = edited_job(result, false);
        job.passes[0].speed->radians_per_second *= factor;
        if (job.passes[0].speed->radians_per_second >
            result.passes[0].speeds.back().radians_per_second) {
            continue;  // faster than may be offered
        }
        const PassReport checked = check_at(job, 32);
        for (const Reason reason : checked.verdict.reasons) {
            EXPECT_TRUE(reason == Reason::holding || reason == Reason::weight) << factor;
        }
    }
}

TEST(Trade, EverySpeedIsNeverWorse) {
    TradeSettings settings = quick();
    settings.method = StabilityMethod::periodic;
    settings.draws = 16;
    settings.reach = tall_riser_short_tool(0.055);
    TradeStudy quick_study(traded_job(), settings);
    settings.every_speed = true;
    TradeStudy whole_study(traded_job(), settings);
    for (const std::size_t option : {std::size_t{1}, std::size_t{4}}) {
        EXPECT_GE(whole_study.option(option).removal, quick_study.option(option).removal) << option;
    }
}

TEST(Trade, HeldByReachIsSaidOfTheShortestThatClearsOnly) {
    TradeSettings settings = quick();
    settings.reach = tall_riser_short_tool(0.065);
    TradeStudy study(traded_job(), settings);
    for (const TradeResult& result : all_options(study)) {
        const TradePass& pass = result.passes[0];
        if (pass.held_by == LimitedBy::reach) {
            EXPECT_LT(pass.stickout, *pass.least_stickout + 0.5e-3) << result.id;
        }
        if (pass.held_by == LimitedBy::list) {
            EXPECT_GT(pass.stickout, *pass.least_stickout) << result.id;
        }
        int out = 0;
        for (const TradeCell& cell : pass.cells) out += cell.clear == false;
        EXPECT_EQ(pass.out.not_clear, out);
    }
}

TEST(Trade, OnATallerRiserTheToolMayBeShorterAndTheStackIsHeavier) {
    TradeSettings settings = quick();
    settings.reach = tall_riser_short_tool(0.065);
    TradeStudy study(traded_job(), settings);
    const std::vector<TradeResult> results = all_options(study);
    for (std::size_t i = 0; i < results.size(); ++i) {
        const TradePass& pass = results[i].passes[0];
        EXPECT_EQ(pass.clear, true);
        EXPECT_GE(pass.stickout, *pass.least_stickout - 1e-9);
        for (const TradeCell& cell : pass.cells)
            EXPECT_EQ(cell.clear, cell.stickout >= *pass.least_stickout - 1e-9);
        if (i == 0) continue;
        EXPECT_GT(results[i].mass, results[i - 1].mass);
        EXPECT_LT(*pass.least_stickout, *results[i - 1].passes[0].least_stickout);
    }
}

TEST(Trade, LowRisersAreHeldBackByReachAndTallOnesByRigidity) {
    TradeSettings settings = quick();
    settings.reach = tall_riser_short_tool(0.062);
    TradeStudy study(traded_job(), settings);
    const std::vector<TradeResult> results = all_options(study);
    EXPECT_EQ(results.front().limited_by, LimitedBy::reach);
    EXPECT_EQ(results.back().limited_by, LimitedBy::rigidity);
}

TEST(Trade, APassThatNoStickoutReachesIsToBeAvoidedForReach) {
    TradeSettings settings = quick();
    settings.reach = [](const Job&, std::size_t, const std::vector<double>&) {
        TradeReach reach;
        reach.judged = true;
        reach.nearest = "holder against table";
        return reach;
    };
    TradeStudy study(traded_job(), settings);
    const TradeResult result = study.option(0);
    EXPECT_EQ(result.passes[0].clear, false);
    EXPECT_FALSE(result.passes[0].least_stickout);
    EXPECT_EQ(result.verdict.level, Level::avoid);
    const std::vector<Reason>& reasons = result.verdict.reasons;
    EXPECT_NE(std::find(reasons.begin(), reasons.end(), Reason::reach), reasons.end());
    EXPECT_EQ(result.limited_by, LimitedBy::reach);
    EXPECT_FALSE(rank_trade({result}).best);
}

TEST(Trade, WithoutReachNoShorterStickoutIsChosenThanTheJobs) {
    TradeStudy study(traded_job(), quick());
    for (const TradeResult& result : all_options(study)) {
        EXPECT_GE(result.passes[0].stickout, 0.058 - 1e-9);
        EXPECT_FALSE(result.passes[0].clear.has_value());
        EXPECT_FALSE(result.not_judged.empty());
    }
}

TEST(Trade, AnOptionIsAtTheLevelOfItsWorstPass) {
    Job job = traded_job();
    job.passes.push_back(job.passes[0]);
    job.passes[1].name = "far too deep";
    job.passes[1].axial = 0.025;
    job.passes[1].radial = 0.009;
    TradeStudy study(job, quick());
    const TradeResult result = study.option(2);
    Level worst = Level::unflagged;
    for (const TradePass& pass : result.passes) worst = std::max(worst, pass.verdict.level);
    EXPECT_EQ(result.verdict.level, worst);
    EXPECT_EQ(result.passes[result.worst].verdict.level, worst);
}

TEST(Trade, AnOptionDoesNotDependOnWhichWereJudgedBefore) {
    TradeSettings settings = quick();
    settings.draws = 8;
    TradeStudy one(traded_job(), settings), other(traded_job(), settings);
    one.option(0);
    one.option(1);
    const TradeResult after = one.option(3), alone = other.option(3);
    EXPECT_EQ(after.passes[0].stickout, alone.passes[0].stickout);
    EXPECT_EQ(after.passes[0].probability, alone.passes[0].probability);
    EXPECT_EQ(after.removal, alone.removal);
}

TEST(Trade, ThreadsThatAskOneStudyGetWhatOneThreadGets) {
    TradeSettings settings = quick();
    settings.draws = 8;
    const TradeStudy alone(traded_job(), settings), shared(traded_job(), settings);
    const std::size_t count = shared.grid().options.size();
    std::vector<TradeResult> results(count);
    std::vector<std::thread> threads;
    for (std::size_t i = 0; i < count; ++i) {
        threads.emplace_back([&, i] { results[i] = shared.option(i); });
    }
    for (std::thread& thread : threads) thread.join();
    for (std::size_t i = 0; i < count; ++i) {
        const TradeResult one = alone.option(i);
        EXPECT_EQ(results[i].failed, "");
        EXPECT_EQ(results[i].removal, one.removal);
        EXPECT_EQ(results[i].passes.at(0).probability, one.passes.at(0).probability);
        EXPECT_EQ(results[i].passes[0].verdict.level, one.passes[0].verdict.level);
    }
    EXPECT_EQ(shared.count().cells, alone.count().cells);
    EXPECT_EQ(shared.count().work_sides, alone.count().work_sides);
}

TEST(Trade, WhatTheJobSaysOfItsSpindlesSpreadCountsAsInCheck) {
    Job job = traded_job();
    job.trade->heights = {job.stack.tiers[1].height};
    job.trade->stickouts = {job.tools[0].cutter.stickout};
    TradeSettings settings = quick();
    settings.draws = 64;
    const auto share = [&](const Job& asked) {
        return *TradeStudy(asked, settings).option(0).passes.at(0).probability;
    };
    Job sure = job, open = job;
    sure.uncertainty.spindle_stiffness.all = 1.0;
    open.uncertainty.spindle_stiffness.all = 3.0;
    CheckOptions options;
    options.method = StabilityMethod::zero_order;
    options.speeds = {*job.passes[0].speed};
    options.advise = false;
    options.odds.draws = settings.draws;
    options.odds.seed = settings.seed;
    for (const Job& asked : {sure, open}) {
        EXPECT_DOUBLE_EQ(share(asked), check_job(asked, options).passes.at(0).odds->at_judged);
    }
}

/// Speed times the depth that check recommends of the job with that stickout, m rad/s.
double worth_by_check(const Job& job, double stickout, const std::vector<SpindleSpeed>& speeds) {
    Job edited = job;
    edited.tools[0] = with_stickout(job.tools[0], stickout);
    edited.passes[0].axial.reset();
    CheckOptions options;
    options.method = StabilityMethod::zero_order;
    options.speeds = speeds;
    options.advise = false;
    const PassReport checked = check_job(edited, options).passes[0];
    return checked.best ? checked.best->depth * checked.best->speed.radians_per_second : 0;
}

TEST(Trade, ALongerStickoutThatPutsAPocketOnAUsableSpeedIsFoundAndSaid) {
    const Job job = long_tool_job();
    TradeSettings settings = quick();
    settings.speeds = 60;
    settings.reach = tall_riser_short_tool(0.068);
    TradeStudy study(job, settings);
    const TradeResult result = study.option(0);
    const std::vector<double>& stickouts = study.grid().stickouts[0];
    // Fine enough that half a least band either side of a speed is seen.
    const std::vector<SpindleSpeed> speeds =
        default_speeds(result.passes[0].speeds.front(), result.passes[0].speeds.back(), 400);
    const double shortest = worth_by_check(job, stickouts.front(), speeds);
    double most = 0, best = 0;
    for (const double stickout : stickouts) {
        const double worth = worth_by_check(job, stickout, speeds);
        if (worth > most) best = stickout;
        most = std::max(most, worth);
    }
    ASSERT_GT(most, 1.1 * shortest) << "the case must have a longer stickout that wins";
    ASSERT_FALSE(result.tuned.empty()) << "brute force prefers " << best;
    const TunedStickout& tuned = result.tuned.front();
    EXPECT_GT(tuned.stickout, tuned.shortest);
    EXPECT_GT(*tuned.limit, *tuned.limit_shortest);
    EXPECT_GE(*tuned.usable * tuned.speed.radians_per_second, 0.85 * most);
}

}  // namespace
}  // namespace standfast
