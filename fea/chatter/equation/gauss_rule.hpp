#pragma once

#include <Eigen/Core>

namespace standfast {

/// Gauss-Legendre points on [0, 1], a finer set of them, and what one needs to integrate on the
/// fine set a product of something given at the points with something known everywhere.
struct GaussRule {
    Eigen::VectorXd node;         ///< ascending, inside (0, 1)
    Eigen::VectorXd barycentric;  ///< 1/product of a node's distances from the others
    Eigen::VectorXd fine_node;
    Eigen::VectorXd fine_weight;  ///< sum 1; exact for polynomials up to degree 2 fine - 1
    /// From values at the points to values of their polynomial at the fine points; fine x points.
    Eigen::MatrixXd interpolation;
    /// integral(i, q): integral from 0 to node i of the polynomial that is 1 at fine point q and 0
    /// at the other fine ones; points x fine.
    Eigen::MatrixXd integral;
};

constexpr int kMostGaussPoints = 32;

/// The rule with n points and 2 n fine ones, computed once and kept; 1 <= n <= kMostGaussPoints.
/// Newton iteration on the Legendre recurrence, good to 1e-15.
/// @throws std::domain_error for other n
/// Source: Legendre series and their integrals; collocation at Gauss points as in E. Hairer and
///         G. Wanner, Solving Ordinary Differential Equations II, section IV.5 (memory).
const GaussRule& gauss_rule(int points);

/// Weights of values at the points of a rule in the value at x of the polynomial through them.
Eigen::VectorXd lagrange_weights(const GaussRule& rule, double x);

/// Weights of values at distinct nodes in the value at x of the polynomial through them.
Eigen::VectorXd lagrange_weights(const Eigen::VectorXd& node, double x);

}  // namespace standfast
