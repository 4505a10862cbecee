// How often the spread that a fit states covers the truth: joints of the push-test example drawn
// from what is believed of them, its measurements simulated with the stated noise, and fitted.
// Prints for each factor how many of the seeds lie within the 10-90 % interval, and how much
// narrower it became: on clean data, with a scale that shows 10 % too much or too little, and with
// one reading in five off by a factor of 1.5 to 3 (then by the fit without what disagrees).
// Arguments: number of seeds (400 unless said).
#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <numeric>
#include <string>
#include <vector>

#include "cli/job/read_job.hpp"
#include "tests/fea/studies/measured_job.hpp"

namespace {

using namespace standfast;

enum class Trouble { none, scale, bad_reading };

constexpr double kTenPercent = 1.2815515655446004;
constexpr double kScaleOff = 0.10;

struct Counted {
    std::vector<int> inside;
    Eigen::VectorXd narrower;
    int converged = 0, found = 0, bad = 0, wrongly = 0;
};

/// Logarithms of what is uncertain and not adjusted; the scale off by a tenth where that is the
/// trouble.
Eigen::VectorXd nuisances(const FitProblem& problem, Trouble trouble, std::mt19937_64& stream) {
    std::normal_distribution<double> normal;
    const auto count = static_cast<Eigen::Index>(problem.unknowns.nuisances.size());
    Eigen::VectorXd drawn(count);
    for (Eigen::Index i = 0; i < count; ++i) {
        const Spread& spread = problem.unknowns.nuisances[static_cast<std::size_t>(i)].spread;
        const double sample = normal(stream);
        drawn[i] = log_deviation(spread.factor) * sample;
        if (trouble == Trouble::scale && spread.group.starts_with("force by scale")) {
            drawn[i] = std::log(sample < 0 ? 1 - kScaleOff : 1 + kScaleOff);
        }
    }
    return drawn;
}

/// Spoils one in five of the readings. @returns which
std::vector<std::size_t> spoil(FitProblem& problem, std::size_t readings, std::mt19937_64& stream) {
    std::vector<std::size_t> all(readings);
    std::iota(all.begin(), all.end(), std::size_t{0});
    std::shuffle(all.begin(), all.end(), stream);
    all.resize(std::max<std::size_t>(1, readings / 5));
    std::uniform_real_distribution<double> size(std::log(1.5), std::log(3.0));
    for (const std::size_t bad : all) {
        const double off = (stream() % 2 == 0 ? 1 : -1) * size(stream);
        for (Observation& observation : problem.observations) {
            if (observation.measured != bad) continue;
            observation.value *= std::exp(off);
            if (observation.what == Observed::frequency) {
                problem.modes[observation.mode].hertz = observation.value;
            }
        }
    }
    return all;
}

Counted count(const Job& job, Trouble trouble, int seeds) {
    const FitProblem problem = fit_problem(job);
    const Eigen::MatrixXd prior = prior_covariance(problem.unknowns, job);
    const auto unknowns = static_cast<Eigen::Index>(problem.unknowns.list.size());
    Counted counted{.inside = std::vector<int>(problem.unknowns.list.size(), 0),
                    .narrower = Eigen::VectorXd::Zero(unknowns)};
    std::mt19937_64 stream(1);
    for (int seed = 0; seed < seeds; ++seed) {
        const FitPoint at{.unknown = drawn(prior, stream),
                          .nuisance = nuisances(problem, trouble, stream)};
        FitProblem measured = planted(problem, at, stream);
        std::vector<std::size_t> bad;
        if (trouble == Trouble::bad_reading) bad = spoil(measured, job.measured.size(), stream);
        FitResult result = fit_observations(job, measured, prior);
        if (const auto without = fit_without_disagreeing(job, measured, prior, result)) {
            if (trouble == Trouble::bad_reading) result = without->fit;
            for (const std::size_t one : without->set_aside) {
                (std::ranges::find(bad, one) != bad.end() ? counted.found : counted.wrongly) += 1;
            }
        }
        counted.bad += static_cast<int>(bad.size());
        counted.converged += result.converged ? 1 : 0;
        for (Eigen::Index i = 0; i < unknowns; ++i) {
            const double deviation = std::sqrt(result.covariance(i, i));
            const auto place = static_cast<std::size_t>(i);
            const double off = std::log(result.adjusted[place].factor) - at.unknown[i];
            counted.inside[place] += std::abs(off) < kTenPercent * deviation ? 1 : 0;
            counted.narrower[i] += deviation / std::sqrt(prior(i, i)) / seeds;
        }
    }
    return counted;
}

void print(const Job& job, const char* title, Trouble trouble, int seeds) {
    const Counted counted = count(job, trouble, seeds);
    fmt::print("{}: {} seeds, {} converged; share within the 10-90 % interval, spread left over\n",
               title, seeds, counted.converged);
    const FitProblem problem = fit_problem(job);
    int all = 0;
    for (std::size_t i = 0; i < counted.inside.size(); ++i) {
        const FitUnknown& unknown = problem.unknowns.list[i];
        all += counted.inside[i];
        fmt::print("  {:<28} {:<9} {:5.1f} %   {:.2f} of before\n", unknown.name,
                   unknown.quantity == FitQuantity::stiffness ? "stiffness" : "loss",
                   100.0 * counted.inside[i] / seeds,
                   counted.narrower[static_cast<Eigen::Index>(i)]);
    }
    fmt::print("  all together {:.1f} %; set aside: {} of {} bad readings, {} good ones\n\n",
               100.0 * all / (static_cast<double>(counted.inside.size()) * seeds), counted.found,
               counted.bad, counted.wrongly);
}

}  // namespace

int main(int argc, char** argv) {
    const int seeds = argc > 1 ? std::atoi(argv[1]) : 400;
    const ReadResult read = read_job("examples/16-push-test/job.toml", {});
    if (!read.job) {
        fmt::print("run from the top of the repository: examples/16-push-test is not here\n");
        return 1;
    }
    print(*read.job, "clean", Trouble::none, seeds);
    print(*read.job, "scale 10 % off", Trouble::scale, seeds);
    print(*read.job, "one reading in five bad", Trouble::bad_reading, seeds);
}
