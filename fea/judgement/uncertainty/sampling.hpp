#pragma once

#include <Eigen/Core>
#include <cstdint>
#include <string>
#include <vector>

#include "fea/job/measured.hpp"
#include "fea/structure/model.hpp"

namespace standfast {

/// Draws of uncertain factors: one row a draw, one column a spread group.
struct Draws {
    std::vector<std::string> group;
    Eigen::MatrixXd factor;  ///< lognormal about 1 as median; draws x groups

    Eigen::Index count() const { return factor.rows(); }
};

/// Latin hypercube of independent lognormal factors: each group's range is cut into as many equal
/// shares of probability as there are draws, and each share is met once.
///
/// The same seed and groups (by name and order) give the same draws on any machine and any number
/// of threads; a group's column depends on the seed and on its own name alone, so that adding a
/// group leaves the others' draws as they were.
/// @param spreads  group and 10-90 % factor (90 % quantile / median); factor 1: no scatter
/// @throws std::domain_error unless count > 0 and every factor >= 1 and finite
/// Source: McKay, Beckman and Conover, Technometrics 21 (1979) 239-245 (from memory).
Draws latin_hypercube(const std::vector<Spread>& spreads, int count, std::uint64_t seed);

/// The same without stratification, for comparison.
Draws plain_draws(const std::vector<Spread>& spreads, int count, std::uint64_t seed);

/// Draws whose columns hang together as a fit found: those of groups that `together` knows are
/// mixed by the Cholesky factor of their correlation, with each column's spread as it was; the
/// others stay. The first of them keeps its draws, later ones lean on those before.
/// @param spreads  those that the draws were made of, in their order
Draws hanging_together(Draws draws, const std::vector<Spread>& spreads,
                       const FittedTogether& together);

/// Whether a matrix is a correlation: square, symmetric, 1 on the diagonal, positive definite
/// to rounding.
bool is_correlation(const Eigen::MatrixXd& matrix);

/// The 10-90 % factor of a standard deviation of ln(factor); the other way round of log_deviation.
double ten_ninety_factor(double log_deviation);

/// Standard deviation of ln(factor) that a 10-90 % factor stands for: ln f / 1.2815515655446004.
double log_deviation(double ten_ninety_factor);

/// Quantile of the standard normal distribution, 0 < probability < 1; relative error < 1e-12.
double normal_quantile(double probability);

/// How far a share of tries may be off by counting alone: one standard deviation.
double counting_error(double share, int tries);

}  // namespace standfast
