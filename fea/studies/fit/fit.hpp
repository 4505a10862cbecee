#pragma once

#include <Eigen/Core>
#include <optional>
#include <string>
#include <vector>

#include "fea/studies/fit/fit_observations.hpp"

namespace standfast {

/// One factor that was looked for.
struct FitAdjusted {
    FitUnknown unknown;
    double factor = 1;  ///< after / before
    double spread = 1;  ///< 10-90 % factor that is left
    bool seen = false;  ///< the data say something of it
    double after() const { return unknown.before * factor; }
};

/// One measured number beside the model.
struct FitComparison {
    std::size_t measured = 0;  ///< index into Job::measured
    Observed what = Observed::moved;
    double value = 0, before = 0, after = 0;  ///< m, Hz, -, N/m; walls: m of stock left
    double residual = 0;  ///< (after - value) in standard deviations of the measurement
    /// What all the others, with the prior, say of it; and how far it is from that in standard
    /// deviations of that prediction and of itself.
    double others = 0, apart = 0;
    bool disagrees = false;
    bool counts = true;   ///< false: so far off that it was not let into the fit
    std::string suspect;  ///< what is wrong with it, perhaps: "sign reversed?"; empty: not known
};

struct FitResult {
    std::vector<FitAdjusted> adjusted;
    std::vector<FitComparison> measured;
    std::vector<std::string> warnings;
    Eigen::MatrixXd covariance;  ///< of the logarithms of the factors, in the order of `adjusted`
    bool converged = false;
};

/// Factors on the stiffness and the damping of joints, table, spindle, supports, tapers and grips
/// that explain what was measured on a job's machine, held by what was believed of them before.
///
/// Least squares over the logarithms: measurements over their standard deviations, factors over the
/// spreads of the uncertainty model. What is uncertain and not adjusted (moduli, damping of
/// materials, cutting force) widens the measurements. Modes are paired by shape and frequency, and
/// again at the solution until the pairing stays. The spread left is that of the linearised problem
/// there. A factor counts as seen where its deviation shrank by a tenth or more; a measurement
/// disagrees where it lies more than 2.5 deviations from what the others say of it.
/// What cannot be true at all (is_gross) is not let into the fit and warned of with its suspect; so
/// is a joint that comes out far from anything believed, since then what the job says of it is the
/// suspect.
/// validation/fit_coverage.cpp counts how often the spread covers planted truths.
/// @throws std::domain_error as fit_problem, and where the model has no answer at the start
/// Source: Bayesian linear Gaussian estimation, textbook.
FitResult fit_job(const Job& job);

/// As above for a problem that is set up, so that a study can change its values.
/// @param job  whose measurements they are, for the names of suspects
FitResult fit_observations(const Job& job, FitProblem problem, const Eigen::MatrixXd& prior);

/// The fit without what disagrees, the worst set aside first and the fit repeated, until all agree.
struct FitWithout {
    FitResult fit;
    std::vector<std::size_t> set_aside;  ///< indices into Job::measured
};
/// None where nothing disagrees, or nothing would be left.
std::optional<FitWithout> fit_without_disagreeing(const Job& job, const FitResult& result);
std::optional<FitWithout> fit_without_disagreeing(const Job& job, FitProblem problem,
                                                  const Eigen::MatrixXd& prior,
                                                  const FitResult& result);

}  // namespace standfast
