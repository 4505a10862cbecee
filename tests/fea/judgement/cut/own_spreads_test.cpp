// Spreads that the job states itself, from its plain data to the draws.
#include "fea/judgement/cut/own_spreads.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "fea/judgement/cut/sides.hpp"
#include "fea/judgement/tries/drawn_sides.hpp"
#include "fea/judgement/tries/pass_odds.hpp"
#include "tests/fea/judgement/sample_job.hpp"

namespace standfast {
namespace {

Draws draws_of(const Job& job, int count = 64) {
    const JobSides sides = solve_sides(job, {0});
    return *draw_job(job, {0}, sides, {.draws = count, .seed = 2}).draws;
}

/// Standard deviation of ln factor, in those of a 10-90 % factor of 2; 0 where it is not drawn.
double scatter_of(const Draws& draws, const std::string& group) {
    for (std::size_t k = 0; k < draws.group.size(); ++k) {
        if (draws.group[k] != group) continue;
        const Eigen::ArrayXd logs = draws.factor.col(static_cast<Eigen::Index>(k)).array().log();
        return std::sqrt((logs - logs.mean()).square().mean()) / log_deviation(2);
    }
    return 0;
}

TEST(OwnSpreads, TakeThePlaceOfThoseOfTheCatalogue) {
    Job job = test_job();
    job.uncertainty.joint_stiffness.all = 4;
    job.uncertainty.spindle_stiffness.all = 2;
    job.uncertainty.cutting_force.all = 2;
    const Draws draws = draws_of(job);
    EXPECT_NEAR(scatter_of(draws, "joint stiffness: given"), 2, 0.05);
    EXPECT_NEAR(scatter_of(draws, "spindle stiffness"), 1, 0.03);
    EXPECT_NEAR(scatter_of(draws, "cutting force: "), 1, 0.03);
}

TEST(OwnSpreads, OfMassesAndOfXAgainstY) {
    Job job = test_job();
    job.machine.table.mass = 40;
    job.machine.spindle.mass = 2.5;
    job.machine.spindle.inertia = 0.006;
    EXPECT_NEAR(scatter_of(draws_of(job, 1000), "table: x against y"),
                std::log(1.186) / std::log(2), 0.01);
    job.uncertainty.table_mass.all = 4;
    job.uncertainty.spindle_mass.all = 2;
    job.uncertainty.spindle_split.all = 2;
    job.uncertainty.table_split.all = 1;
    const Draws draws = draws_of(job, 1000);
    EXPECT_NEAR(scatter_of(draws, "table mass"), 2, 0.05);
    EXPECT_NEAR(scatter_of(draws, "spindle mass"), 1, 0.03);
    EXPECT_NEAR(scatter_of(draws, "spindle: x against y"), 1, 0.03);
    EXPECT_EQ(scatter_of(draws, "table: x against y"), 0);
}

// Splits of measured tools, x against y in frequency: 0.3, 0.5, 3, 7, 9, 10, 11, 12 and 45 %
// (median 9 %; validation/measured). Either sign is as likely.
TEST(OwnSpreads, AxesAreDrawnApartByNinePercentInTheMedian) {
    const Draws draws = draws_of(test_job(), 1000);
    for (const char* group : {"table: x against y", "spindle: x against y"}) {
        const auto k = std::find(draws.group.begin(), draws.group.end(), group);
        ASSERT_NE(k, draws.group.end()) << group;
        Eigen::ArrayXd split = draws.factor.col(k - draws.group.begin()).array().log();
        EXPECT_NEAR(static_cast<double>((split > 0).count()), 500, 1) << group;
        split = split.abs();
        std::sort(split.data(), split.data() + split.size());
        EXPECT_NEAR(split[500], 0.09, 0.001) << group;
    }
}

TEST(OwnSpreads, OfOneAreCertain) {
    Job job = test_job();
    ASSERT_GT(scatter_of(draws_of(job), "table stiffness"), 0);
    job.uncertainty.table_stiffness.all = 1;
    EXPECT_EQ(scatter_of(draws_of(job), "table stiffness"), 0);
}

TEST(OwnSpreads, OfAGripAreNotDrawnWithTheStackJoints) {
    Job job = test_job();
    job.uncertainty.grip_stiffness.all = 3;
    const Draws draws = draws_of(job);
    EXPECT_NEAR(scatter_of(draws, "grip stiffness: given"), std::log(3) / std::log(2), 0.05);
    EXPECT_GT(scatter_of(draws, "joint stiffness: given"), 0);
}

TEST(OwnSpreads, OfMeasuredModes) {
    SolvedSide side;
    side.measured = true;
    Uncertainty own;
    own.measured_damping.by_name["stack"] = 1.7;
    const std::vector<Spread> spreads = side_spreads(side, "stack", own);
    ASSERT_EQ(spreads.size(), 2U);
    EXPECT_EQ(spreads[1].factor, 1.7);
    EXPECT_EQ(side_spreads(side, "tool", own)[1].factor, side_spreads(side, "tool")[1].factor);
}

TEST(OwnSpreads, RunoutIsDrawnWhereItIsGivenAndWidensThePushOff) {
    Job job = test_job();
    EXPECT_EQ(scatter_of(draws_of(job), "runout: long finisher"), 0);
    job.tools[0].cutter.runout = 20e-6;
    job.uncertainty.runout.all = 2;
    EXPECT_NEAR(scatter_of(draws_of(job), "runout: long finisher"), 1, 0.03);
}

}  // namespace
}  // namespace standfast
