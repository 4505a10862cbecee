#include "fea/studies/fit/fit.hpp"

#include <Eigen/Cholesky>
#include <Eigen/LU>
#include <algorithm>
#include <cmath>
#include <numeric>
#include <stdexcept>

#include "fea/judgement/uncertainty/sampling.hpp"
#include "fea/studies/fit/fit_predict.hpp"
#include "fea/studies/fit/suspects.hpp"
#include "fea/studies/regression/least_squares.hpp"

namespace standfast {
namespace {

constexpr double kStep = 1e-4;          // of a logarithm
constexpr double kFirstPairing = 0.25;  // deviations of the logarithm of a frequency
constexpr double kLaterPairing = 0.08;
constexpr int kMostPairings = 4;
constexpr double kSeen = 0.9;
constexpr double kDisagrees = 2.5;
constexpr double kCountsForNothing = 1e3;
constexpr double kNear = 4;  // deviations within which a small motion may have either sign
constexpr double kFarFromBelieved = 2.6;  // deviations of what was believed

bool is_modal(Observed what) {
    return what == Observed::frequency || what == Observed::damping ||
           what == Observed::dynamic_stiffness;
}

FitPoint point_at(const FitProblem& problem, const Eigen::VectorXd& unknown) {
    return {.unknown = unknown,
            .nuisance = Eigen::VectorXd::Zero(
                static_cast<Eigen::Index>(problem.unknowns.nuisances.size()))};
}

/// Measurement noise and what the nuisances add to it.
Eigen::MatrixXd noise_covariance(const FitProblem& problem, const Eigen::VectorXd& unknown) {
    const auto count = static_cast<Eigen::Index>(problem.observations.size());
    Eigen::MatrixXd covariance = Eigen::MatrixXd::Zero(count, count);
    for (Eigen::Index i = 0; i < count; ++i) {
        const double deviation = problem.observations[static_cast<std::size_t>(i)].deviation;
        covariance(i, i) = deviation * deviation;
    }
    const FitPoint at = point_at(problem, unknown);
    if (at.nuisance.size() == 0) return covariance;
    const Residuals by_nuisance = [&](const Eigen::VectorXd& nuisance) {
        return misses(problem, predicted(problem, {.unknown = unknown, .nuisance = nuisance}));
    };
    Eigen::MatrixXd moved = jacobian_of(by_nuisance, at.nuisance, by_nuisance(at.nuisance), kStep);
    for (Eigen::Index j = 0; j < moved.cols(); ++j) {
        moved.col(j) *=
            log_deviation(problem.unknowns.nuisances[static_cast<std::size_t>(j)].spread.factor);
    }
    return covariance + moved * moved.transpose();
}

struct Solution {
    LeastSquares found;  ///< residuals and jacobian of the whitened measurements, then the prior
    Eigen::MatrixXd noise;
};

Solution solve(const FitProblem& problem, const Eigen::VectorXd& start,
               const Eigen::MatrixXd& prior) {
    Solution solution;
    solution.noise = noise_covariance(problem, start);
    const Eigen::LLT<Eigen::MatrixXd> noise(solution.noise), before(prior);
    if (noise.info() != Eigen::Success || before.info() != Eigen::Success) {
        throw std::domain_error("fit: a spread is not positive");
    }
    const Residuals residuals = [&](const Eigen::VectorXd& unknown) {
        const Eigen::VectorXd miss =
            misses(problem, predicted(problem, point_at(problem, unknown)));
        Eigen::VectorXd all(miss.size() + unknown.size());
        all << noise.matrixL().solve(miss), before.matrixL().solve(unknown);
        return all;
    };
    solution.found = least_squares(residuals, start, kStep);
    return solution;
}

/// One measurement against what the others among `active` say of it: with the covariance S of the
/// data, prior included, it is (S^-1 d)_i / (S^-1)_ii off, with variance 1 / (S^-1)_ii.
struct Apart {
    Eigen::VectorXd difference, deviations;  ///< per member of `active`
};

Apart apart_from_others(const Eigen::MatrixXd& covariance, const Eigen::VectorXd& miss,
                        const std::vector<Eigen::Index>& active) {
    const Eigen::MatrixXd inverse = covariance(active, active).inverse();
    const Eigen::VectorXd weighted = inverse * miss(active);
    return {.difference = weighted.cwiseQuotient(inverse.diagonal()),
            .deviations = weighted.cwiseQuotient(inverse.diagonal().cwiseSqrt())};
}

void compare(FitComparison& comparison, const Apart& apart, Eigen::Index place) {
    comparison.apart = apart.deviations[place];
    const bool plain = comparison.what == Observed::moved ||
                       comparison.what == Observed::wall_top ||
                       comparison.what == Observed::wall_foot;
    const double difference = apart.difference[place];
    comparison.others =
        plain ? comparison.value + difference : comparison.value * std::exp(difference);
}

/// In the problem linearised at the solution. The worst is set aside first and the rest judged
/// without it, so that one wild reading does not make its neighbours look wrong.
void compare_with_others(const FitProblem& problem, const Solution& solution,
                         const Eigen::MatrixXd& prior, FitResult& result) {
    const auto count = static_cast<Eigen::Index>(problem.observations.size());
    const Eigen::LLT<Eigen::MatrixXd> noise(solution.noise);
    const Eigen::MatrixXd lower = noise.matrixL();
    const Eigen::MatrixXd jacobian = lower * solution.found.jacobian.topRows(count);
    const Eigen::VectorXd miss = lower * solution.found.residuals.head(count);
    const Eigen::VectorXd at_prior = miss - jacobian * solution.found.solution;
    const Eigen::MatrixXd covariance = solution.noise + jacobian * prior * jacobian.transpose();
    std::vector<Eigen::Index> active(static_cast<std::size_t>(count));
    std::iota(active.begin(), active.end(), Eigen::Index{0});
    while (!active.empty()) {
        const Apart apart = apart_from_others(covariance, at_prior, active);
        Eigen::Index worst = 0;
        const bool wild = apart.deviations.cwiseAbs().maxCoeff(&worst) > kDisagrees;
        for (std::size_t i = 0; i < active.size(); ++i) {
            compare(result.measured[static_cast<std::size_t>(active[i])], apart,
                    static_cast<Eigen::Index>(i));
        }
        if (!wild) break;
        result.measured[static_cast<std::size_t>(active[static_cast<std::size_t>(worst)])]
            .disagrees = true;
        active.erase(active.begin() + worst);
    }
    for (Eigen::Index i = 0; i < count; ++i) {
        const auto place = static_cast<std::size_t>(i);
        result.measured[place].residual = miss[i] / problem.observations[place].deviation;
    }
}

/// Lets no number bend the fit that cannot be true at all. @returns which
std::vector<bool> take_out_gross(const Job& job, FitProblem& problem,
                                 const Eigen::VectorXd& before) {
    std::vector<bool> gross(problem.observations.size(), false);
    for (std::size_t i = 0; i < problem.observations.size(); ++i) {
        Observation& observation = problem.observations[i];
        const double model = before[static_cast<Eigen::Index>(i)];
        const bool near = !is_modal(observation.what) &&
                          std::abs(observation.value - model) < kNear * observation.deviation;
        if (near || !is_gross(observation.what, observation.value, model)) continue;
        gross[i] = true;
        const bool of_a_mode = observation.what == Observed::frequency;
        for (Observation& other : problem.observations) {
            // The damping of a hum says nothing either.
            const bool same =
                &other == &observation ||
                (of_a_mode && other.load.size() == 0 && other.measured == observation.measured &&
                 other.mode == observation.mode && is_modal(other.what));
            if (same)
                other.deviation = std::max(
                    other.deviation,
                    kCountsForNothing * std::max({1.0, std::abs(other.value), std::abs(model)}));
        }
        const Measured& measured = job.measured[observation.measured];
        const std::string suspect =
            suspect_of(measured, observation.what, observation.value, model);
        const bool said = std::ranges::any_of(problem.warnings, [&](const std::string& warning) {
            return warning.starts_with(measured.name + ":") &&
                   warning.find("counts for nothing") != std::string::npos;
        });
        if (!said) {
            problem.warnings.push_back(measured.name + ": " +
                                       (suspect.empty() ? "far from anything possible" : suspect) +
                                       "; until that is known it counts for nothing");
        }
    }
    return gross;
}

/// A joint far from anything believed of it: then what the job says of it is the suspect.
void suspect_the_job(FitResult& result) {
    for (const FitAdjusted& one : result.adjusted) {
        const double off = std::log(one.factor) / log_deviation(one.unknown.prior.factor);
        const bool stiffness = one.unknown.quantity == FitQuantity::stiffness;
        if (!one.seen || !stiffness || std::abs(off) < kFarFromBelieved) continue;
        std::string text = one.unknown.name + " comes out ";
        const double times = one.factor > 1 ? one.factor : 1 / one.factor;
        text += std::to_string(static_cast<int>(std::lround(times))) + " times " +
                (one.factor > 1 ? "stiffer" : "softer") +
                " than modelled, further than anything believed: is what the job says of it right "
                "(kind, sizes, preload or torque), and the tiers' sizes beside it?";
        result.warnings.push_back(text);
    }
}

void fill_adjusted(const FitProblem& problem, const Solution& solution,
                   const Eigen::MatrixXd& prior, FitResult& result) {
    const Eigen::MatrixXd& jacobian = solution.found.jacobian;
    result.covariance = (jacobian.transpose() * jacobian).inverse();
    for (std::size_t i = 0; i < problem.unknowns.list.size(); ++i) {
        const auto place = static_cast<Eigen::Index>(i);
        const double deviation = std::sqrt(result.covariance(place, place));
        result.adjusted.push_back({.unknown = problem.unknowns.list[i],
                                   .factor = std::exp(solution.found.solution[place]),
                                   .spread = ten_ninety_factor(deviation),
                                   .seen = deviation < kSeen * std::sqrt(prior(place, place))});
    }
}

}  // namespace

FitResult fit_observations(const Job& job, FitProblem problem, const Eigen::MatrixXd& prior) {
    Eigen::VectorXd unknown =
        Eigen::VectorXd::Zero(static_cast<Eigen::Index>(problem.unknowns.list.size()));
    pair_modes(problem, point_at(problem, unknown), kFirstPairing);
    const Eigen::VectorXd before = predicted(problem, point_at(problem, unknown));
    if (!before.allFinite()) {
        throw std::domain_error("fit: the model has no answer for one of the measurements");
    }
    const std::vector<bool> gross = take_out_gross(job, problem, before);
    Solution solution;
    for (int pairing = 0; pairing < kMostPairings; ++pairing) {
        solution = solve(problem, unknown, prior);
        unknown = solution.found.solution;
        if (!pair_modes(problem, point_at(problem, unknown), kLaterPairing)) break;
    }
    // Once more with what the nuisances do at the solution.
    solution = solve(problem, unknown, prior);

    FitResult result;
    result.converged = solution.found.converged;
    result.warnings = problem.warnings;
    const Eigen::VectorXd after = predicted(problem, point_at(problem, solution.found.solution));
    for (std::size_t i = 0; i < problem.observations.size(); ++i) {
        const Observation& observation = problem.observations[i];
        const auto row = static_cast<Eigen::Index>(i);
        result.measured.push_back({.measured = observation.measured,
                                   .what = observation.what,
                                   .value = observation.value,
                                   .before = before[row],
                                   .after = after[row]});
    }
    compare_with_others(problem, solution, prior, result);
    fill_adjusted(problem, solution, prior, result);
    for (std::size_t i = 0; i < result.measured.size(); ++i) {
        FitComparison& row = result.measured[i];
        row.counts = !gross[i];
        if (!row.counts || row.disagrees) {
            row.suspect = suspect_of(job.measured[row.measured], row.what, row.value,
                                     row.counts ? row.others : row.before);
        }
    }
    suspect_the_job(result);
    return result;
}

std::optional<FitWithout> fit_without_disagreeing(const Job& job, FitProblem problem,
                                                  const Eigen::MatrixXd& prior,
                                                  const FitResult& result) {
    FitWithout without{.fit = result, .set_aside = {}};
    while (true) {
        const FitComparison* worst = nullptr;
        for (const FitComparison& row : without.fit.measured) {
            const bool worse = worst == nullptr || std::abs(row.apart) > std::abs(worst->apart);
            if (row.disagrees && worse) worst = &row;
        }
        if (worst == nullptr) break;
        without.set_aside.push_back(worst->measured);
        problem = without_measured(std::move(problem), {worst->measured});
        if (problem.observations.empty()) return std::nullopt;
        without.fit = fit_observations(job, problem, prior);
    }
    if (without.set_aside.empty()) return std::nullopt;
    return without;
}

std::optional<FitWithout> fit_without_disagreeing(const Job& job, const FitResult& result) {
    FitProblem problem = fit_problem(job);
    const Eigen::MatrixXd prior = prior_covariance(problem.unknowns, job);
    return fit_without_disagreeing(job, std::move(problem), prior, result);
}

FitResult fit_job(const Job& job) {
    FitProblem problem = fit_problem(job);
    const Eigen::MatrixXd prior = prior_covariance(problem.unknowns, job);
    return fit_observations(job, std::move(problem), prior);
}

}  // namespace standfast
