// How often the spread that a fit states covers the truth: joints of the push-test example drawn
// from what is believed of them, its measurements simulated with the stated noise, and fitted.
// Prints for each factor how many of the seeds lie within the 90 % interval, and how much narrower
// it became. Arguments: number of seeds (200 unless said).
#include <fmt/core.h>

#include <cmath>
#include <cstdlib>
#include <string>
#include <vector>

#include "cli/job/read_job.hpp"
#include "tests/fea/studies/measured_job.hpp"

int main(int argc, char** argv) {
    using namespace standfast;
    const int seeds = argc > 1 ? std::atoi(argv[1]) : 200;
    const ReadResult read = read_job("examples/16-push-test/job.toml", {});
    if (!read.job) {
        fmt::print("run from the top of the repository: examples/16-push-test is not here\n");
        return 1;
    }
    const FitProblem problem = fit_problem(*read.job);
    const Eigen::MatrixXd prior = prior_covariance(problem.unknowns, *read.job);
    const auto count = static_cast<Eigen::Index>(problem.unknowns.list.size());
    std::vector<int> inside(problem.unknowns.list.size(), 0);
    Eigen::VectorXd narrower = Eigen::VectorXd::Zero(count);
    int all_inside = 0, converged = 0;
    std::mt19937_64 stream(1);
    std::normal_distribution<double> normal;
    for (int seed = 0; seed < seeds; ++seed) {
        FitPoint at{.unknown = drawn(prior, stream),
                    .nuisance = Eigen::VectorXd::Zero(
                        static_cast<Eigen::Index>(problem.unknowns.nuisances.size()))};
        for (std::size_t i = 0; i < problem.unknowns.nuisances.size(); ++i) {
            at.nuisance[static_cast<Eigen::Index>(i)] =
                log_deviation(problem.unknowns.nuisances[i].spread.factor) * normal(stream);
        }
        const FitResult result = fit_observations(*read.job, planted(problem, at, stream), prior);
        converged += result.converged ? 1 : 0;
        for (Eigen::Index i = 0; i < count; ++i) {
            const double deviation = std::sqrt(result.covariance(i, i));
            const auto place = static_cast<std::size_t>(i);
            const double off = std::log(result.adjusted[place].factor) - at.unknown[i];
            const bool covered = std::abs(off) < 1.6449 * deviation;
            inside[place] += covered ? 1 : 0;
            all_inside += covered ? 1 : 0;
            narrower[i] += deviation / std::sqrt(prior(i, i)) / seeds;
        }
    }
    fmt::print("{} seeds, {} converged; share within the 90 % interval, spread left over\n", seeds,
               converged);
    for (Eigen::Index i = 0; i < count; ++i) {
        const auto place = static_cast<std::size_t>(i);
        const FitUnknown& unknown = problem.unknowns.list[place];
        fmt::print("  {:<28} {:<9} {:5.1f} %   {:.2f} of before\n", unknown.name,
                   unknown.quantity == FitQuantity::stiffness ? "stiffness" : "loss",
                   100.0 * inside[place] / seeds, narrower[i]);
    }
    fmt::print("  all together {:.1f} %\n",
               100.0 * all_inside / (static_cast<double>(count) * seeds));
}
