#pragma once

#include <Eigen/Core>
#include <vector>

#include "fea/quantities/quantities.hpp"
#include "fea/solution/edge_basis.hpp"

namespace standfast {

/// One mode as it is felt where it matters: at a point, or along an edge (edge_basis.hpp).
struct ModalTerm {
    AngularFrequency frequency;  ///< undamped
    double damping_ratio = 0;
    /// Displacement per unit modal coordinate, kg^-1/2, mass-normalised: x, y, z of a point, or the
    /// coordinates of an edge. Real part where loss factors that differ turn the mode's phase.
    EdgeVector shape = EdgeVector::Zero(3);
    EdgeVector out_of_phase = {};  ///< imaginary part of the shape; empty: none
};

/// Receptance by modes: displacement per force between the coordinates of a basis,
///
///     G(w) = sum u u^T / (w_n^2 - w^2 + 2 i zeta w_n w) + residual
///
/// with exp(+i w t), so Im G < 0 at a resonance; complex shapes u as in complex_shape(). For the
/// relative motion of tool and part the terms of both sides stand in one list, since
/// G = G_tool + G_work in common axes. A point's basis has three coordinates.
struct ModalReceptance {
    std::vector<ModalTerm> terms;
    EdgeMatrix residual = EdgeMatrix::Zero(3, 3);  ///< static compliance of the rest, m/N
    EdgeBasis basis = {};
};

/// One complex mode as a pole of first order: c' = pole c + shape . F, displacement Im(shape c).
/// Real shapes: pole = -zeta w + i w sqrt(1 - zeta^2), shape = u / sqrt(Im pole).
struct FirstOrderMode {
    std::complex<double> pole;  ///< 1/s
    ComplexEdgeVector shape;
};
/// @throws std::domain_error unless the frequency is positive and the damping ratio in [0, 1)
FirstOrderMode first_order(const ModalTerm& term);

/// G at one frequency, m/N; symmetric (not Hermitian), as large as the basis.
ComplexEdgeMatrix receptance_at(const ModalReceptance& receptance, AngularFrequency frequency);

/// G at frequency 0, m/N.
EdgeMatrix static_compliance(const ModalReceptance& receptance);

/// The same receptance in other axes: G' = R^T G R, u' = R^T u at every height, where the columns
/// of R are the new axes in the old ones. Slopes turn with the first two of them.
ModalReceptance in_axes(const ModalReceptance& receptance, const Eigen::Matrix3d& axes);

/// G_a + G_b: terms side by side, residuals added. One basis.
/// @throws std::domain_error where the bases differ
ModalReceptance sum(const ModalReceptance& a, const ModalReceptance& b);

}  // namespace standfast
