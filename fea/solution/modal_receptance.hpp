#pragma once

#include <Eigen/Core>
#include <vector>

#include "fea/quantities/quantities.hpp"

namespace standfast {

/// One mode as it is felt at a point: mass-normalised.
struct ModalTerm {
    AngularFrequency frequency;  ///< undamped
    double damping_ratio = 0;
    /// Displacement of the point per unit modal coordinate, kg^-1/2 (x, y, z).
    Eigen::Vector3d shape = Eigen::Vector3d::Zero();
};

/// Receptance of a point by modes: displacement per force, 3 x 3,
///
///     G(w) = sum u u^T / (w_n^2 - w^2 + 2 i zeta w_n w) + residual
///
/// with exp(+i w t), so Im G < 0 at a resonance. For the relative motion of tool and part the
/// terms of both sides stand in one list, since G = G_tool + G_work in common axes.
struct ModalReceptance {
    std::vector<ModalTerm> terms;
    Eigen::Matrix3d residual = Eigen::Matrix3d::Zero();  ///< static compliance of the rest, m/N
};

/// G at one frequency, m/N; 3 x 3, symmetric (not Hermitian).
Eigen::Matrix3cd receptance_at(const ModalReceptance& receptance, AngularFrequency frequency);

/// G at frequency 0, m/N.
Eigen::Matrix3d static_compliance(const ModalReceptance& receptance);

/// The same receptance in other axes: G' = R^T G R, u' = R^T u, where the columns of R are the
/// new axes in the old ones.
ModalReceptance in_axes(const ModalReceptance& receptance, const Eigen::Matrix3d& axes);

/// G_a + G_b: terms side by side, residuals added.
ModalReceptance sum(const ModalReceptance& a, const ModalReceptance& b);

}  // namespace standfast
