#include "fea/judgement/speed/depth_search.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "fea/chatter/limits/depth_stability.hpp"
#include "fea/judgement/cut/sides.hpp"
#include "fea/judgement/speed/best_speed.hpp"
#include "fea/judgement/speed/speed_search.hpp"
#include "fea/judgement/tries/pass_odds.hpp"
#include "tests/fea/judgement/sample_job.hpp"

namespace standfast {
namespace {

TEST(DeepestThat, EndsWithinOnePercentBelowTheEdgeFromAnyGuess) {
    for (const double edge : {0.12e-3, 1e-3, 7.3e-3, 19e-3}) {
        for (const double guess : {0.1e-3, 1e-3, 18e-3, 1.0}) {
            int asked = 0;
            const auto found = deepest_that({.guess = guess, .most = 20e-3}, [&](double depth) {
                ++asked;
                return depth <= edge ? 1.0 : 0.97;
            });
            ASSERT_TRUE(found) << edge << " from " << guess;
            EXPECT_LE(*found, edge);
            EXPECT_GT(*found * 1.0101, edge);
            EXPECT_LE(asked, 24);
        }
    }
}

TEST(DeepestThat, AsksOnceWhereNothingAsDeepAsIsWantedHolds) {
    int asked = 0;
    const auto ask = [&](double depth) {
        ++asked;
        return depth <= 1e-3 ? 1.0 : 0.5;
    };
    EXPECT_FALSE(deepest_that({.guess = 3e-3, .most = 20e-3, .least = 2e-3}, ask));
    EXPECT_EQ(asked, 1);
    EXPECT_FALSE(deepest_that({.guess = 3e-3, .most = 1e-3, .least = 2e-3}, ask));
}

TEST(DeepestThat, TakesTheMostWhereThatHolds) {
    EXPECT_EQ(deepest_that({.guess = 5e-3, .most = 20e-3}, [](double) { return 1.0; }), 20e-3);
}

/// A pass of the sample job with a few tries.
struct TriedPass {
    Job job;
    CutProblem problem;
    Headings headings;
    CutTries tries;
};

std::unique_ptr<TriedPass> tried_pass(int draws) {
    auto pass = std::make_unique<TriedPass>();
    pass->job = test_job();
    pass->job.passes[0].axial.reset();
    const JobSides sides = solve_sides(pass->job, {0});
    pass->problem =
        cut_problem(pass->job, 0, sides.tool[0], sides.work[0], StabilityMethod::periodic);
    const JobDraws drawn = draw_job(pass->job, {0}, sides, {.draws = draws});
    pass->problem.draws = drawn.draws;
    pass->problem.tool_draws = drawn.tool[0];
    pass->problem.work_draws = drawn.work[0];
    pass->headings = headings_of(pass->problem);
    pass->tries = cut_tries(pass->problem, pass->headings);
    return pass;
}

TEST(ChatterByDepth, CountsAsAskingEveryTryDoes) {
    const auto pass = tried_pass(8);
    const std::vector<SpindleSpeed> speeds{SpindleSpeed::from_rpm(8000),
                                           SpindleSpeed::from_rpm(8080)};
    ChatterByDepth by_depth(pass->tries.at_stability, speeds, usual_doubt);
    for (const double depth : {4e-3, 1e-3, 2e-3, 0.3e-3}) {
        std::size_t most = 0;
        for (const SpindleSpeed speed : speeds) {
            std::size_t lost = 0;
            for (const DelaySystem& one : pass->tries.at_stability) {
                lost += growth(prepare_depth(one, depth), speed) > 1 ? 1 : 0;
            }
            most = std::max(most, lost);
        }
        EXPECT_TRUE(by_depth.at_most(most, depth)) << depth;
        if (most > 0) EXPECT_FALSE(by_depth.at_most(most - 1, depth)) << depth;
    }
}

TEST(SpeedsAbout, AreHalfALeastBandToEitherSideAsFarAsMayBeOffered) {
    const auto pass = tried_pass(8);
    const SpeedWindow offered = offered_window(pass->job, pass->job.passes[0]);
    EXPECT_EQ(speeds_about(pass->problem, SpindleSpeed::from_rpm(8000)).size(), 3U);
    const std::vector<SpindleSpeed> at_top = speeds_about(pass->problem, offered.to);
    ASSERT_EQ(at_top.size(), 2U);
    EXPECT_NEAR(at_top[1].radians_per_second, 0.99 * offered.to.radians_per_second, 1e-9);
}

TEST(SpeedSearch, FindsNearlyWhatASearchOfEverySpeedFinds) {
    const auto pass = tried_pass(8);
    const SpeedWindow offered = offered_window(pass->job, pass->job.passes[0]);
    const double deepest = deepest_cut(pass->job.tools[0].cutter);
    double most = 0;
    for (double at = offered.from.radians_per_second; at <= offered.to.radians_per_second;
         at *= 1.01) {
        DepthSearch search(pass->problem, pass->headings, unknown_limit({at}), pass->tries, 1);
        const auto held =
            search.deepest({.guess = most / at, .most = deepest, .least = 1.001 * most / at});
        if (held) most = at * held->depth;
    }
    SpeedHopes from;
    from.between = true;
    for (int i = 0; i <= 30; ++i) {
        const double share = i / 30.0;
        from.hopes.push_back({.speed = {std::pow(offered.from.radians_per_second, 1 - share) *
                                        std::pow(offered.to.radians_per_second, share)},
                              .depth = 1e-3,
                              .most = deepest});
    }
    const auto found = search_speeds(pass->problem, pass->headings, from, pass->tries, 1);
    ASSERT_FALSE(found.empty());
    EXPECT_GT(found.front().worth(), 0.98 * most);
    for (std::size_t i = 1; i < found.size(); ++i) {
        EXPECT_GT(found[i - 1].worth(), found[i].worth());
    }
}

}  // namespace
}  // namespace standfast
