#pragma once

#include <Eigen/Core>

namespace standfast {

/// An upper Hessenberg matrix with the same eigenvalues, by Householder reflections (square).
Eigen::MatrixXd hessenberg_form(Eigen::MatrixXd matrix);

/// All eigenvalues of an upper Hessenberg matrix, in no order; conjugate pairs side by side.
/// Meant for orders up to a few dozen, where a general solver spends most of its time on overhead.
/// @param tolerance  entries below this times the Frobenius norm are dropped: the eigenvalues are
///                   those of a matrix that differs by as much, and come sooner
/// Where an eigenvalue takes more than 60 sweeps (seen once in 20,000 maps), the general solver
/// takes over.
/// Source: Francis' double-shift QR as in R. S. Martin, G. Peters and J. H. Wilkinson, Numerische
///         Mathematik 14 (1970) 219-231 (memory).
Eigen::VectorXcd hessenberg_eigenvalues(const Eigen::MatrixXd& hessenberg, double tolerance = 0);

}  // namespace standfast
