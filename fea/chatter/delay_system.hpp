#pragma once

#include <Eigen/Core>
#include <vector>

#include "fea/cutting/cutter_geometry.hpp"
#include "fea/cutting/cutting_law.hpp"
#include "fea/cutting/engagement.hpp"
#include "fea/quantities/quantities.hpp"
#include "fea/solution/modal_receptance.hpp"

namespace standfast {

// Room "chatter": the regenerative equation, its stability limits and its stable motion.

/// The equation of milling with regeneration, three-dimensional, stated once:
///
///     modal:       q_m'' + 2 zeta_m w_m q_m' + w_m^2 q_m = u_m . F(t)
///     relative:    d(t) = sum of u_m q_m(t) + residual F(t)         (tool minus part, tool axes)
///     force:       F(t) = F_0(t) + sum over teeth j of A_j(t) [ d(t) - d(t - tau_j) ]
///
/// A_j(t), 3 x 3, N/m, is the force on the tool per unit change of the vibration between tooth j
/// and the one before it, integrated along the engaged edge up to the axial depth; F_0 is the
/// rigid cut. tau_j is the time since the preceding tooth passed the same angle.
///
/// For a square corner (k = 90 deg) per edge height:
///     h = (dx sin phi + dy cos phi) sin k - dz cos k
///     A = -T [Kt, Kr, Ka]^T [sin phi sin k, cos phi sin k, -cos k] / sin k
/// with T turning tangential, radial, axial into x, y, z as in forces.hpp.
/// Source: Y. Altintas, Manufacturing Automation (2012), chapter 4, and T. Insperger and
///         G. Stepan, Int. J. Numer. Meth. Eng. 61 (2004) 117-141, for the planar case (memory).
struct DelaySystem {
    ModalReceptance receptance;  ///< relative, tool axes
    CutterGeometry cutter;
    Engagement engagement;
    CuttingLaw law;
};

/// A(phi) of all teeth that share one delay: tooth 0's tip at phi, edge engaged from z = 0 to
/// depth; N/m, 3 x 3. Closed form along a helix.
Eigen::Matrix3d directional_matrix(const DelaySystem& system, double phi, double depth);

/// Mean of A over a revolution per unit depth, N/m^2 (the zero-order term), 3 x 3; for a square
/// corner exactly proportional to depth.
Eigen::Matrix3d mean_directional_matrix(const DelaySystem& system);

}  // namespace standfast
