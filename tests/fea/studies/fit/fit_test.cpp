#include "fea/studies/fit/fit.hpp"

#include <gtest/gtest.h>

#include <Eigen/Cholesky>
#include <algorithm>
#include <cmath>

#include "fea/stack/cut_receptance.hpp"
#include "tests/fea/studies/measured_job.hpp"

namespace standfast {
namespace {

const FitAdjusted& adjusted(const FitResult& result, const std::string& name,
                            FitQuantity quantity = FitQuantity::stiffness) {
    const auto found =
        std::find_if(result.adjusted.begin(), result.adjusted.end(), [&](const FitAdjusted& one) {
            return one.unknown.name == name && one.unknown.quantity == quantity;
        });
    if (found == result.adjusted.end()) throw std::runtime_error("no unknown " + name);
    return *found;
}

/// The stack solved by the program's ordinary way, at the top of a tier.
SolvedSide solved(const Job& job, std::size_t tier) {
    Pass pass;
    pass.tier = tier;
    return solve_work_side(job.machine, job.stack, pass, top_of(job, tier).at);
}

/// Measurements of a machine whose joints are off by these factors, simulated by the ordinary
/// solution of a job that says so.
Job measured_on(double riser, double part, double table) {
    Job truth = measured_job();
    truth.stack.tiers[1].joint.stiffness_adjust = riser;
    truth.stack.tiers[2].joint.stiffness_adjust = part;
    truth.machine.table.adjusted.stiffness = table;
    Job job = measured_job();
    for (const std::size_t tier : {0U, 1U, 2U}) {
        const Eigen::Matrix3d compliance = solved(truth, tier).compliance;
        job.measured.push_back(push_at(top_of(job, tier), Eigen::Vector3d::UnitX(),
                                       500 * compliance(0, 0), IndicatorBase::spindle));
        job.measured.push_back(push_at(top_of(job, tier), Eigen::Vector3d::UnitY(),
                                       500 * compliance(1, 1), IndicatorBase::spindle));
    }
    const SolvedSide top = solved(truth, 2);
    std::vector<double> hertz, damping;
    for (std::size_t mode = 0; mode < 4; ++mode) {
        hertz.push_back(top.modes[mode].frequency.hertz());
        damping.push_back(top.modes[mode].damping_ratio);
    }
    job.measured.push_back(tap_at(top_of(job, 2), hertz, damping));
    return job;
}

TEST(Fit, MeasurementsOfASofterMachineFindItsJoints) {
    const FitResult result = fit_job(measured_on(0.5, 0.7, 0.8));
    EXPECT_TRUE(result.converged);
    EXPECT_NEAR(adjusted(result, "riser joint").factor, 0.5, 0.05);
    EXPECT_NEAR(adjusted(result, "part joint").factor, 0.7, 0.05);
    // The table is told less well; what is said of it covers the truth.
    EXPECT_NEAR(std::log(adjusted(result, "table").factor / 0.8), 0,
                std::log(adjusted(result, "table").spread));
    EXPECT_LT(adjusted(result, "riser joint").spread, 1.25);
    for (const FitComparison& row : result.measured) {
        EXPECT_LT(std::abs(row.residual), 1.0) << row.measured;
        EXPECT_FALSE(row.disagrees) << row.measured;
    }
}

TEST(Fit, AMachineAsModelledIsLeftAsItIs) {
    const FitResult result = fit_job(measured_on(1, 1, 1));
    for (const FitAdjusted& one : result.adjusted)
        EXPECT_NEAR(one.factor, 1, 1e-3) << one.unknown.name;
}

TEST(Fit, AnIndicatorOnTheTableDoesNotSeeTheTableGive) {
    Job job = measured_job();
    job.measured = {push_at(top_of(job, 2), Eigen::Vector3d::UnitX(), 20e-6, IndicatorBase::table)};
    EXPECT_FALSE(adjusted(fit_job(job), "table").seen);
    job.measured = {
        push_at(top_of(job, 2), Eigen::Vector3d::UnitX(), 20e-6, IndicatorBase::spindle)};
    const FitProblem absolute = fit_problem(job);
    const FitPoint nominal{
        .unknown = Eigen::VectorXd::Zero(static_cast<Eigen::Index>(absolute.unknowns.list.size())),
        .nuisance =
            Eigen::VectorXd::Zero(static_cast<Eigen::Index>(absolute.unknowns.nuisances.size()))};
    const double to_spindle = predicted(absolute, nominal)[0];
    job.measured[0].push->against = IndicatorBase::table;
    const double to_table = predicted(fit_problem(job), nominal)[0];
    // The difference is the table's own give at that height: sideways and by tilting.
    const double height = 0.03 + 0.15 + 0.09;
    EXPECT_NEAR(to_spindle - to_table, 500 * (1 / 150e6 + height * height / 5e6),
                1e-6 * to_spindle);
}

TEST(Fit, TapFrequenciesPairByShapeWhateverTheirOrder) {
    const Job job = measured_on(0.6, 1.2, 0.9);
    Job turned = job;
    TapTest& tap = *turned.measured.back().tap;
    std::reverse(tap.frequencies.begin(), tap.frequencies.end());
    std::reverse(tap.damping.begin(), tap.damping.end());
    const FitResult a = fit_job(job), b = fit_job(turned);
    for (std::size_t i = 0; i < a.adjusted.size(); ++i)
        EXPECT_NEAR(a.adjusted[i].factor, b.adjusted[i].factor, 1e-4 * a.adjusted[i].factor);
}

TEST(Fit, ATapAlongOneDirectionPairsWithAModeThatMovesThatWay) {
    Job job = measured_job();
    const SolvedSide top = solved(job, 2);
    // The first two modes sway along x and along y; only the second is felt along y.
    std::size_t along_y = 0;
    while (std::abs(top.modal.terms[along_y].shape.y()) <
           10 * std::abs(top.modal.terms[along_y].shape.x()))
        ++along_y;
    ASSERT_GT(along_y, 0U) << "the case needs another mode below";
    const double hertz = top.modes[along_y].frequency.hertz();
    job.measured = {tap_at(top_of(job, 2), {hertz}, {})};
    job.measured[0].tap->direction = Eigen::Vector3d::UnitY();
    const FitResult result = fit_job(job);
    EXPECT_NEAR(result.measured[0].before, hertz, 1e-6 * hertz);
}

TEST(Fit, AWildReadingIsNamedAndTheOthersAreNot) {
    Job job = measured_on(0.8, 0.9, 1);
    job.measured[2].push->moved[0] *= 2;
    const FitResult result = fit_job(job);
    for (const FitComparison& row : result.measured)
        EXPECT_EQ(row.disagrees, row.measured == 2) << row.measured << ": " << row.apart;
    EXPECT_NEAR(result.measured[2].others, result.measured[2].value / 2,
                0.15 * result.measured[2].value / 2);
}

TEST(Fit, PushesAloneSayNothingOfDamping) {
    Job job = measured_on(0.8, 0.9, 1);
    job.measured.pop_back();
    for (const FitAdjusted& one : fit_job(job).adjusted) {
        if (one.unknown.quantity != FitQuantity::loss) continue;
        EXPECT_FALSE(one.seen) << one.unknown.name;
        EXPECT_NEAR(one.factor, 1, 1e-6);
    }
}

TEST(Fit, DampingThatWasMeasuredIsFound) {
    Job job = measured_on(1, 1, 1);
    for (double& ratio : job.measured.back().tap->damping) ratio *= 1.8;
    const FitResult result = fit_job(job);
    double most = 0;
    for (const FitAdjusted& one : result.adjusted) {
        if (one.unknown.quantity == FitQuantity::loss) most = std::max(most, one.factor);
    }
    EXPECT_GT(most, 1.3);
    for (const FitComparison& row : result.measured) {
        if (row.what != Observed::damping) continue;
        EXPECT_GT(row.after, 1.2 * row.before);
    }
}

TEST(Fit, PlantedJointsLieInTheirStatedSpread) {
    Job job = measured_on(1, 1, 1);
    const FitProblem problem = fit_problem(job);
    const Eigen::MatrixXd prior = prior_covariance(problem.unknowns, job);
    std::mt19937_64 stream(11);
    int inside = 0, all = 0;
    for (int seed = 0; seed < 12; ++seed) {
        FitPoint at{.unknown = drawn(prior, stream),
                    .nuisance = Eigen::VectorXd::Zero(
                        static_cast<Eigen::Index>(problem.unknowns.nuisances.size()))};
        const FitResult result = fit_observations(job, planted(problem, at, stream), prior);
        for (std::size_t i = 0; i < result.adjusted.size(); ++i) {
            const auto place = static_cast<Eigen::Index>(i);
            const double deviation = std::sqrt(result.covariance(place, place));
            const double off = std::log(result.adjusted[i].factor) - at.unknown[place];
            inside += std::abs(off) < 1.6449 * deviation ? 1 : 0;
            ++all;
        }
    }
    // 12 seeds of 8 factors that hang together: 90 % give or take three deviations of some 40
    // independent ones. validation/fit_coverage.cpp does 200.
    EXPECT_GT(inside, 0.75 * all) << inside << " of " << all;
}

TEST(Fit, NothingMeasuredIsAnError) {
    EXPECT_THROW(fit_job(measured_job()), std::domain_error);
    Job job = measured_job();
    job.measured = {push_at(top_of(job, 2), Eigen::Vector3d::UnitX(), 20e-6, IndicatorBase::table)};
    job.stack.rigid = true;
    EXPECT_THROW(fit_job(job), std::domain_error);
}

}  // namespace
}  // namespace standfast
