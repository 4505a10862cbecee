#pragma once

#include <Eigen/Core>

namespace standfast {

/// All eigenvalues of an upper Hessenberg matrix, in no order; conjugate pairs side by side.
/// Meant for orders up to a few dozen, where a general solver spends most of its time on overhead.
/// @throws std::domain_error if an eigenvalue takes more than 60 sweeps
/// Source: Francis' double-shift QR as in R. S. Martin, G. Peters and J. H. Wilkinson, Numerische
///         Mathematik 14 (1970) 219-231 (memory).
Eigen::VectorXcd hessenberg_eigenvalues(const Eigen::MatrixXd& hessenberg);

}  // namespace standfast
