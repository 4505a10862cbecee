#pragma once

#include <Eigen/Core>
#include <Eigen/SparseCore>
#include <vector>

#include "fea/quantities/quantities.hpp"
#include "fea/solution/modes.hpp"
#include "fea/structure/assembly.hpp"

namespace standfast {

/// A damped mode as it is felt through some rows: shape complex where loss factors differ.
struct ComplexMode {
    AngularFrequency frequency;  ///< |s|
    double damping_ratio = 0;    ///< Im s / |s|
    Eigen::VectorXcd shape;      ///< rows, kg^-1/2
};

/// Modes of (K(1 + i eta) - s^2 M) v = 0, one for each real mode given and in its order, as felt
/// through `rows` (m x n):
///
///     G(w) = sum of [ X X^T/(i w - i s) - conj(X X^T)/(i w + i conj s) ] / 2i,   X = shape/sqrt(Re
///     s)
///
/// which for real shapes is u u^T/(w_n^2 - w^2 + 2 i zeta w_n w): where all loss factors are one,
/// that is real modes with viscous damping of zeta = loss/2. The direct solve, whose damping is
/// structural, differs near a peak by a phase of zeta; with shapes times sqrt(Re s/s) it is met
/// within 1.2 % (measured in tests). Shapes have v^T M v = 1. Solved on the given modes and on the
/// static answers to the loss forces of the lowest of them, so that losses that differ couple modes
/// as they do in the direct solve.
/// @throws std::domain_error if the stiffness is singular
/// Source: hysteretic modal decomposition; textbook. Projection: Galerkin.
std::vector<ComplexMode> complex_modes(const AssembledSystem& system,
                                       const std::vector<Mode>& modes,
                                       const Eigen::SparseMatrix<double, Eigen::RowMajor>& rows);

}  // namespace standfast
