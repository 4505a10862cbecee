#pragma once

#include <Eigen/Core>
#include <memory>
#include <vector>

#include "fea/chatter/equation/cut_lines.hpp"
#include "fea/cutting/cutter_geometry.hpp"
#include "fea/cutting/cutting_law.hpp"
#include "fea/cutting/edge_sum.hpp"
#include "fea/cutting/engagement.hpp"
#include "fea/quantities/quantities.hpp"
#include "fea/solution/modal_receptance.hpp"

namespace standfast {

// Room "chatter": the regenerative equation, its stability limits and its stable motion.

/// The equation of milling with regeneration, three-dimensional, the cut spread along the edge,
/// stated once:
///
///     modal:     q_m'' + 2 zeta_m w_m q_m' + w_m^2 q_m = integral of u_m(z) . f(z, t) dz
///     relative:  d(z, t) = sum of u_m(z) q_m(t) + integral of residual(z, z') f(z', t) dz'
///                                                                     (tool minus part, tool axes)
///     force:     f(z, t) = f_0(z, t) + sum over teeth j of a_j(z, t) [ d(z, t) - d(z, t - tau_j) ]
///                          - c(z, t) d'(z, t)/V
///
/// z is the height above the tip, 0 to the axial depth. a_j(z, t), 3 x 3, N/m^2, is the force on
/// the tool per height and per unit change of the vibration there between tooth j and the one
/// before it, 0 where that edge is not in the cut; f_0 is the rigid cut. tau_j is the time since
/// the preceding tooth passed the same angle. Runout is left out of a_j: every tooth is taken to
/// cut wherever it is engaged.
///
/// Solved with d(z) = sum of L_a(z) d_a, the polynomial through a few heights (edge_basis.hpp),
/// in whose coordinates the equation is the one above without z:
///     F(t) = F_0(t) + sum of A_j(t) [ d(t) - d(t - tau_j) ] - C(t) d'/V,
///     A_ab = integral of L_a a(z) L_b dz.
/// Two or three heights leave 0.2 % of the limit (cut_lines.hpp); with one height, as of modes
/// measured at a point, a point's receptance serves for the whole edge. The lever of the axial
/// force (edge_basis.hpp) bends the tool; that the chip feels the edge sink by it, at a corner
/// radius or ball, is left out, and so is twisting of the tool.
///
/// Per edge height, with the lead angle k (90 deg for a square corner) and T turning the
/// tangential, radial and axial force into x, y, z as in edge_law.hpp:
///     h = (dx sin phi + dy cos phi) sin k - dz cos k
///     A = T [Kt, Kr, Ka]^T [sin phi sin k, cos phi sin k, -cos k] / sin k
/// C(t)/V, the flank's rubbing over the cutting speed V, is process damping: 0 unless the cutting
/// data hold a coefficient; d' there is that of the modes, the residual follows at once. The flank
/// presses back in proportion to the slope of the wave it runs down, d'/V.
/// Source: Y. Altintas, Manufacturing Automation (2012), chapter 4, and T. Insperger and
///         G. Stepan, Int. J. Numer. Meth. Eng. 61 (2004) 117-141, for the planar case; process
///         damping in this form: J. Tlusty and F. Ismail, CIRP Annals 30 (1981), and C. T. Tyler
///         and T. L. Schmitz, J. Manuf. Processes 15 (2013) 69-76 (all from memory).
struct DelaySystem {
    ModalReceptance receptance;  ///< relative, tool axes; at one point, unless there are lines
    CutterGeometry cutter;
    Engagement engagement;
    CuttingLaw law;
    int arc_slices = 24;  ///< of the edge along a corner radius or ball, see edge_slices.hpp
    std::shared_ptr<const CutLines> lines = {};  ///< along the edge; none: `receptance` serves
};

/// The receptance of a cut of this depth (m, > 0): along the edge where the system has lines.
ModalReceptance receptance_of_cut(const DelaySystem& system, double depth);

/// The same at one point in the middle of the cut, for what needs only rank or a start.
ModalReceptance receptance_in_the_middle(const DelaySystem& system, double depth);

/// A over all teeth, or of one tooth, up to the axial depth (m), prepared for many angles: use
/// value_at(sum, phi) and harmonic(sum, k) of edge_sum.hpp. N/m, of one point unless its basis is
/// set to another.
EdgeSum<Eigen::Matrix3d> directional_sum(const DelaySystem& system, double depth);
EdgeSum<Eigen::Matrix3d> directional_sum(const DelaySystem& system, double depth, int tooth);

/// Process damping of the same edges: flank force (N, tool axes) per speed over cutting speed,
/// C n n^T summed along the edge, n = (sin, cos, 0) the way out of the wall; F = -(this) d'/V.
/// @param coefficient  C, N/m, CuttingLaw::process_damping; 0: no terms
EdgeSum<Eigen::Matrix3d> rubbing_sum(const EdgeSum<Eigen::Matrix3d>& directional,
                                     double coefficient);

/// A(phi) of all teeth together: tooth 0's tip at phi (rad), edge engaged from z = 0 to depth (m);
/// N/m, 3 x 3. Closed form along a helix; corner radius and ball nose by slices.
/// @throws std::domain_error for a negative depth or a cutter without teeth
Eigen::Matrix3d directional_matrix(const DelaySystem& system, double phi, double depth);

/// Angle in rad, and at a spindle speed the time in s, since the tooth before `tooth` passed the
/// same place: its pitch. All are equal for evenly spaced teeth, and add up to one revolution.
double tooth_pitch(const CutterGeometry& cutter, int tooth);
double tooth_delay(const CutterGeometry& cutter, int tooth, SpindleSpeed speed);

/// Mean of A (one point) over a revolution per unit depth, N/m^2 (the zero-order term), 3 x 3, for
/// an edge engaged to `depth`; for a square corner it does not depend on the depth. A helix does
/// not change it.
Eigen::Matrix3d mean_directional_matrix(const DelaySystem& system, double depth);

}  // namespace standfast
