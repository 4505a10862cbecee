#include "fea/judgement/cut/headings.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "fea/judgement/cut/sides.hpp"
#include "tests/fea/judgement/sample_job.hpp"

namespace standfast {
namespace {

Job job_without_a_wall() {
    Job job = test_job();
    job.passes[0].wall.reset();
    job.passes[0].feed_heading.reset();
    return job;
}

CutProblem problem_of(const Job& job) {
    const Pass& pass = job.passes[0];
    return cut_problem(job, 0, tool_side_of(job, pass), work_side_of(job, pass),
                       StabilityMethod::periodic);
}

double smallest(const CutProblem& problem, double heading, SpindleSpeed speed, double depth) {
    double least = HUGE_VAL;
    for (const SpeedLimit& at : ranking_limits(problem, heading, {speed}, depth).speeds) {
        if (at.limit) least = std::min(least, *at.limit);
    }
    return least;
}

TEST(Headings, AFixedWallLeavesNothingToSearch) {
    const Job job = test_job();
    const CutProblem problem = problem_of(job);
    const Headings headings = headings_of(problem);
    EXPECT_FALSE(headings.searched);
    EXPECT_EQ(headings.stability, headings.error);
    EXPECT_EQ(headings.stability, *fixed_heading(job, job.passes[0]));
}

TEST(Headings, TheOneFoundHasTheSmallestLimitOfAllAround) {
    const Job job = job_without_a_wall();
    const CutProblem problem = problem_of(job);
    const SpindleSpeed speed = *job.passes[0].speed;
    const double depth = 2e-3;
    const Headings headings = judged_headings(problem, {speed}, depth);
    ASSERT_TRUE(headings.searched);
    const double found = smallest(problem, headings.stability, speed, depth);
    double least = HUGE_VAL;
    for (int i = 0; i < 72; ++i) {
        least = std::min(least, smallest(problem, 2 * std::numbers::pi * i / 72, speed, depth));
    }
    EXPECT_LE(found, 1.01 * least);
}

TEST(Headings, TheOneFoundHasTheLargestErrorOfAllAround) {
    const Job job = job_without_a_wall();
    const CutProblem problem = problem_of(job);
    const double depth = 2e-3;
    const Headings headings = judged_headings(problem, {*job.passes[0].speed}, depth);
    const double found = std::abs(static_wall_error(problem, headings.error, depth));
    for (int i = 0; i < 72; ++i) {
        EXPECT_GE(1.01 * found,
                  std::abs(static_wall_error(problem, 2 * std::numbers::pi * i / 72, depth)))
            << 5 * i << " deg";
    }
}

TEST(Headings, LoadsAreTriedAllAroundWhereNoneIsFixed) {
    EXPECT_EQ(load_headings(test_job(), test_job().passes[0]).size(), 1U);
    const Job job = job_without_a_wall();
    EXPECT_EQ(load_headings(job, job.passes[0]).size(), 12U);
}

}  // namespace
}  // namespace standfast
