// What is promised of a pass is what is found once it is done.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstdint>

#include "fea/job/edits/apply_edits.hpp"
#include "fea/judgement/answer/levels.hpp"
#include "fea/judgement/pass/check.hpp"
#include "tests/fea/judgement/sample_job.hpp"

namespace standfast {
namespace {

WallTries walls(int low, int high, double from, double to) {
    WallTries wall;
    for (int i = 0; i < low; ++i) wall.error.push_back(from);
    for (int i = 0; i < high; ++i) wall.error.push_back(to);
    return wall;
}

Pass with_tolerance(double total) {
    Pass pass;
    pass.tolerance = total;
    return pass;
}

TEST(WallTries, AWallThatIsRightOnAverageIsWrongWhenEveryTryMissesIt) {
    const WallTries wall = walls(10, 10, -30e-6, 30e-6);
    EXPECT_EQ(judge_wall_tries(wall, with_tolerance(40e-6), Limits{}).level, Level::avoid);
    EXPECT_TRUE(wall.either_way());
}

TEST(WallTries, LevelFollowsTheShareOfTriesOutsideTheTolerance) {
    const auto level = [](int outside) {
        return judge_wall_tries(walls(100 - outside, outside, 5e-6, 25e-6), with_tolerance(40e-6),
                                Limits{})
            .level;
    };
    EXPECT_EQ(level(0), Level::unflagged);
    EXPECT_EQ(level(19), Level::unflagged);
    EXPECT_EQ(level(20), Level::marginal);
    EXPECT_EQ(level(49), Level::marginal);
    EXPECT_EQ(level(50), Level::avoid);
}

TEST(WallTries, NineInTenStayUnderWhatIsTold) {
    WallTries wall;
    for (int i = 1; i <= 20; ++i) wall.error.push_back(-1e-6 * i);
    EXPECT_DOUBLE_EQ(wall.stays_under(), -18e-6) << "stock left";
    EXPECT_FALSE(wall.either_way());
    EXPECT_NEAR(wall.share_beyond(std::abs(wall.stays_under()) * 1.001), 0.1, 1e-12);
}

TEST(WallTries, CautionNeverMakesALevelKinder) {
    for (int outside = 0; outside <= 40; ++outside) {
        const WallTries wall = walls(40 - outside, outside, 0, 25e-6);
        const Pass pass = with_tolerance(40e-6);
        EXPECT_GE(judge_wall_tries(wall, pass, Limits{}, 1).level,
                  judge_wall_tries(wall, pass, Limits{}).level)
            << outside;
    }
}

TEST(Headline, ACutBeyondItsComputedEdgeIsNeverUnflaggedAndElseAsTheTriesSay) {
    const auto level = [](double depth, double share) {
        return judge_chatter_tried(depth, 4e-3, share, Limits{}).level;
    };
    EXPECT_EQ(level(5e-3, 0.50), Level::avoid);
    EXPECT_EQ(level(5e-3, 0.49), Level::marginal);
    EXPECT_EQ(level(5e-3, 0.19), Level::marginal);
    EXPECT_EQ(level(5e-3, 0.01), Level::marginal) << "the stack as described chatters";
    EXPECT_EQ(level(3e-3, 0.49), Level::marginal);
    EXPECT_EQ(level(3e-3, 0.01), Level::unflagged);
}

CheckOptions tried(std::uint64_t seed = 1) {
    CheckOptions options;
    options.odds = {.draws = 48, .seed = seed, .least_speeds = 24};
    return options;
}

Verdict done(const Job& job, const std::vector<Edit>& set) {
    CheckOptions options = tried();
    options.advise = false;
    const Job changed = edited(job, set);
    options.speeds = {*changed.passes[0].speed};
    return check_job(changed, options).passes.at(0).verdict;
}

Job cut_of(double depth, double tolerance) {
    Job job = test_job();
    job.passes[0].axial = depth;
    job.passes[0].tolerance = tolerance;
    job.passes[0].path = {{0.035, 0.020, 0.090}, {0.035, -0.020, 0.090}};
    return job;
}

TEST(OneJudgement, WhatIsAdvisedIsNoWorseWhenItIsDone) {
    for (const double depth : {2e-3, 6e-3}) {
        const Job job = cut_of(depth, 0.06e-3);
        const PassReport report = check_job(job, tried()).passes.at(0);
        ASSERT_NE(report.verdict.level, Level::unflagged);
        for (const Advice& advice : report.advice) {
            EXPECT_LE(done(job, advice.set).level, advice.level)
                << depth << ": advice " << static_cast<int>(advice.kind);
            EXPECT_LE(advice.level, report.verdict.level);
        }
        const bool clears = std::any_of(report.advice.begin(), report.advice.end(),
                                        [](const Advice& advice) { return advice.clears; });
        EXPECT_EQ(report.nothing_reaches, !clears);
    }
}

TEST(OneJudgement, TheBestSpeedAndDepthAreNoWorseWhenTheyAreRun) {
    for (const double depth : {2e-3, 6e-3}) {
        const Job job = cut_of(depth, 0.06e-3);
        const PassReport report = check_job(job, tried()).passes.at(0);
        ASSERT_TRUE(report.best);
        const Pass& pass = job.passes[0];
        const Verdict found = done(job, {PassSpeed{pass.name, report.best->speed},
                                         AxialDepth{pass.name, report.best->depth}});
        EXPECT_LE(found.level, report.best->level);
        EXPECT_LE(report.best->depth, depth);
    }
}

TEST(OneJudgement, AQuietBandIsQuietInItsMiddle) {
    const Job job = cut_of(0.8e-3, 0.08e-3);
    const PassReport report = check_job(job, tried()).passes.at(0);
    ASSERT_FALSE(report.quiet_bands.empty());
    for (const SpeedBand& band : report.quiet_bands) {
        const double middle = (band.from.radians_per_second + band.to.radians_per_second) / 2;
        const Verdict found = done(job, {PassSpeed{job.passes[0].name, SpindleSpeed{middle}}});
        EXPECT_EQ(found.level, Level::unflagged) << SpindleSpeed{middle}.rpm();
    }
}

TEST(OneJudgement, SeveralChangesTogetherStandFirstAndEachChangesSomethingElse) {
    const Job job = cut_of(6e-3, 0.06e-3);
    const PassReport report = check_job(job, tried()).passes.at(0);
    for (std::size_t i = 0; i < report.advice.size(); ++i) {
        const Advice& advice = report.advice[i];
        EXPECT_EQ(advice.kind == AdviceKind::several, !advice.parts.empty());
        if (advice.kind != AdviceKind::several) continue;
        EXPECT_EQ(i, 0U);
        EXPECT_TRUE(advice.clears);
        EXPECT_GE(advice.parts.size(), 2U);
        EXPECT_LE(advice.parts.size(), 3U);
        ASSERT_TRUE(advice.removal_ratio);
        EXPECT_GT(*advice.removal_ratio, 0);
        for (std::size_t a = 0; a < advice.set.size(); ++a) {
            for (std::size_t b = a + 1; b < advice.set.size(); ++b) {
                EXPECT_FALSE(set_the_same(advice.set[a], advice.set[b]));
            }
        }
    }
}

// Whoever takes less depth at the same speed and feed removes less in the same proportion.
TEST(OneJudgement, LessDepthCostsMetalInProportion) {
    const Job job = cut_of(6e-3, 0.06e-3);
    for (const Advice& advice : check_job(job, tried()).passes.at(0).advice) {
        if (advice.kind != AdviceKind::less_depth) continue;
        ASSERT_TRUE(advice.removal_ratio);
        EXPECT_NEAR(*advice.removal_ratio, std::get<AxialDepth>(advice.set.front()).axial / 6e-3,
                    1e-9);
    }
}

}  // namespace
}  // namespace standfast
