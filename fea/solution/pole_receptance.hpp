#pragma once

#include <Eigen/Core>
#include <vector>

#include "fea/quantities/quantities.hpp"
#include "fea/solution/modes.hpp"
#include "fea/structure/assembly.hpp"

namespace standfast {

/// Receptance of one point with structural damping, as poles and residues:
///
///     G(w) = sum of R_k / (lambda_k - w^2),   lambda_k, R_k complex
///
/// What DirectReceptance solves, (K(1 + i eta) - w^2 M) u = f, projected on the modes, the static
/// answers to unit loads at the point, and those to the inertia of the latter and to the loss
/// forces of the lowest modes; so loss factors couple modes as they do in the direct solve. Costs
/// one small eigenproblem, then next to nothing a frequency: for thousands of frequencies. Agrees
/// with the direct solve within 1e-3 of |G| below half the last mode (measured in tests).
struct PoleReceptance {
    std::vector<std::complex<double>>
        pole;                               ///< (rad/s)^2, with the loss as positive imaginary part
    std::vector<Eigen::Matrix3cd> residue;  ///< kg^-1
};

/// @param modes  of the system, lowest first
/// @throws std::domain_error if the stiffness is singular
/// Source: hysteretic modal decomposition; textbook. Projection: Galerkin.
PoleReceptance pole_receptance(const AssembledSystem& system, const std::vector<Mode>& modes,
                               const MaterialPoint& point);

/// G at one frequency, m/N; 3 x 3, model axes, exp(+i w t).
Eigen::Matrix3cd receptance_at(const PoleReceptance& receptance, AngularFrequency frequency);

}  // namespace standfast
