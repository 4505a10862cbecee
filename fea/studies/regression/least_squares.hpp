#pragma once

#include <Eigen/Core>
#include <functional>

namespace standfast {

/// Residuals (m) of parameters (n), m >= n.
using Residuals = std::function<Eigen::VectorXd(const Eigen::VectorXd&)>;

/// m x n: forward differences of the residuals, columns on several threads.
/// @param step  of every parameter; parameters are logarithms, so one step suits all
Eigen::MatrixXd jacobian_of(const Residuals& residuals, const Eigen::VectorXd& at,
                            const Eigen::VectorXd& value, double step);

struct LeastSquares {
    Eigen::VectorXd solution, residuals;
    Eigen::MatrixXd jacobian;  ///< there
    int iterations = 0;
    bool converged = false;
};

/// The parameters of least sum of squares near `start`, by Levenberg and Marquardt's method.
/// A start whose residuals are not finite comes back as it is, not converged.
/// Source: Eigen's port of MINPACK (J. J. Moré, B. S. Garbow, K. E. Hillstrom, 1980).
LeastSquares least_squares(const Residuals& residuals, Eigen::VectorXd start, double step,
                           int most_iterations = 60);

}  // namespace standfast
