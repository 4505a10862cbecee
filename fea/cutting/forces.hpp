#pragma once

#include <Eigen/Core>
#include <complex>
#include <vector>

#include "fea/cutting/cutter_geometry.hpp"
#include "fea/cutting/cutting_law.hpp"
#include "fea/cutting/edge_sum.hpp"
#include "fea/cutting/engagement.hpp"

namespace standfast {

/// Rigid cutting: no vibration, nominal engagement.
struct RigidCut {
    CutterGeometry cutter;
    Engagement engagement;
    CuttingLaw law;
    double feed_per_tooth = 0;  ///< m
    double depth = 0;           ///< m, axial
};

/// Whether the teeth of a cut differ, by runout or pitch, so that each finds what others left.
bool teeth_differ(const RigidCut& cut);

/// The force on the tool (N, tool axes), prepared for many angles: value_at(sum, phi) with tooth
/// 0's tip at phi, harmonic(sum, k) over a revolution (edge_sum.hpp), all teeth together.
///
/// The chip of tooth j is the least of what the N teeth before it have left,
/// h = min over m of [feed of the last m teeth sin phi + rho_j - rho_(j-m)], and a tooth that
/// runs out so far inward that h <= 0 does not cut; uneven pitch shares the feed of a revolution
/// by angle. Circular tooth paths. Corner radius and ball: by slices, with the same entry and exit
/// angle at every height.
/// @throws std::domain_error for a negative depth, feed, or corner radius above D/2
EdgeSum<Eigen::Vector3d> rigid_force_sum(const RigidCut& cut);

/// The same of one tooth alone.
EdgeSum<Eigen::Vector3d> rigid_force_sum(const RigidCut& cut, int tooth);

/// Force on the tool (N, tool axes) with tooth 0's tip at angle phi (rad), all teeth together.
/// Helix by closed-form integration along the edge; corner and ball nose by slices.
/// Signs: h = fz sin phi for square corners; Fx = -Ft cos - Fr sin, Fy = Ft sin - Fr cos,
/// Fz = -Fa for a right-hand cutter with right-hand helix (pulled toward its tip, -z).
/// A straight edge that just makes the wall (phi = pi, down and slot; phi = 0, up) still counts.
/// Source: Y. Altintas, Manufacturing Automation (2012), chapter 2 (from memory; checked against
///         its mean forces).
Eigen::Vector3d rigid_force(const RigidCut& cut, double phi);

/// Mean over a revolution, N, exact; and the force of largest magnitude, N (tool axes), to 1e-6 of
/// itself: kinks where an edge enters or leaves are looked at from inside.
Eigen::Vector3d mean_force(const RigidCut& cut);
Eigen::Vector3d peak_force(const RigidCut& cut);

/// Angle of rotation after which the force repeats, rad: one tooth period, or one revolution with
/// runout or uneven pitch.
double force_period(const CutterGeometry& cutter);

/// Fourier coefficients F_k (3 each), k = 0 .. count, of the force over one tooth period
/// (evenly spaced, no runout) or one revolution (otherwise): F(t) = sum over all k of
/// F_k exp(i k w t), F_-k = conj F_k; w = base_per_revolution x spindle rotation, t = 0 with tooth
/// 0 at phi = 0. Closed form.
struct ForceHarmonics {
    int base_per_revolution = 1;  ///< teeth, or 1
    std::vector<Eigen::Vector3cd> coefficient;
};
ForceHarmonics force_harmonics(const RigidCut& cut, int count);

}  // namespace standfast
