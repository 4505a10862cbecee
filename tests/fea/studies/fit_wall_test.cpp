#include <gtest/gtest.h>

#include <cmath>

#include "fea/judgement/cut/headings.hpp"
#include "fea/judgement/cut/sides.hpp"
#include "fea/studies/fit/fit.hpp"
#include "tests/fea/judgement/sample_job.hpp"

namespace standfast {
namespace {

Job walled_job(double dovetail_factor) {
    Job job;
    job.machine = test_machine();
    job.stack = test_stack();
    job.tools = {test_tool()};
    job.passes = {test_pass()};
    for (Tier& tier : job.stack.tiers) {
        tier.joint.stiffness_spread = 2;
        tier.joint.measured_as = tier.name + " joint";
    }
    job.stack.tiers[2].joint.stiffness_adjust = dovetail_factor;
    return job;
}

/// Stock left at the top and at the foot of the wall, m, by the ordinary static answer.
WallTest wall_of(const Job& job) {
    const Pass& pass = job.passes[0];
    const CutProblem problem = cut_problem(job, 0, tool_side_of(job, pass), work_side_of(job, pass),
                                           StabilityMethod::zero_order);
    const CutReceptance receptance = receptance_at_heading(problem, *fixed_heading(job, pass));
    RigidCut cut = problem.cut;
    cut.depth = *pass.axial;
    const std::vector<double> error =
        static_error(static_compliance(receptance.modal), cut, {0.0, cut.depth});
    return {.pass = 0, .top = -error[1], .foot = -error[0]};
}

TEST(FitWall, AWallAsModelledIsPredictedAsTheCheckHasIt) {
    Job job = walled_job(1);
    Measured measured;
    measured.name = "wall";
    measured.wall = wall_of(job);
    job.measured = {measured};
    const FitResult result = fit_job(job);
    ASSERT_EQ(result.measured.size(), 2U);
    EXPECT_NEAR(result.measured[0].before, measured.wall->top, 1e-6 * std::abs(measured.wall->top));
    EXPECT_NEAR(result.measured[1].before, measured.wall->foot,
                1e-6 * std::abs(measured.wall->foot));
}

TEST(FitWall, MoreStockLeftThanModelledMakesTheHoldSofter) {
    Job job = walled_job(1);
    Measured measured;
    measured.name = "wall";
    measured.wall = wall_of(walled_job(0.3));
    measured.good_to = 0.05;
    job.measured = {measured};
    const FitResult result = fit_job(job);
    for (const FitAdjusted& one : result.adjusted) {
        if (one.unknown.name != "part joint" || one.unknown.quantity != FitQuantity::stiffness)
            continue;
        EXPECT_LT(one.factor, 0.9);
        // The cutting force is not known to better than a quarter, so one wall cannot tell more.
        EXPECT_GT(one.factor, 0.3);
    }
}

TEST(FitWall, APassWithoutAHeadingCannotBeCompared) {
    Job job = walled_job(1);
    Measured measured;
    measured.name = "wall";
    measured.wall = wall_of(job);
    job.measured = {measured};
    job.passes[0].wall.reset();
    EXPECT_THROW(fit_job(job), std::domain_error);
}

}  // namespace
}  // namespace standfast
