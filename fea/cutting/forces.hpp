#pragma once

#include <Eigen/Core>
#include <complex>
#include <vector>

#include "fea/cutting/cutter_geometry.hpp"
#include "fea/cutting/cutting_law.hpp"
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

/// Force on the tool (N, tool axes) with tooth 0's tip at angle phi (rad), all teeth together.
/// Helix by closed-form integration along the edge; corner and ball nose by slices.
/// Signs: h = fz sin phi for square corners; Fx = -Ft cos - Fr sin, Fy = Ft sin - Fr cos,
/// Fz = -Fa for a right-hand cutter with right-hand helix (pulled toward its tip, -z).
Eigen::Vector3d rigid_force(const RigidCut& cut, double phi);

/// Mean over a revolution, N, and the force of largest magnitude, N (tool axes).
Eigen::Vector3d mean_force(const RigidCut& cut);
Eigen::Vector3d peak_force(const RigidCut& cut);

/// Fourier coefficients F_k (3 each), k = 0 .. count, of the force over one tooth period
/// (evenly spaced, no runout) or one revolution (otherwise): F(t) = sum over all k of
/// F_k exp(i k w t), F_-k = conj F_k; w = base_per_revolution x spindle rotation.
struct ForceHarmonics {
    int base_per_revolution = 1;  ///< teeth, or 1
    std::vector<Eigen::Vector3cd> coefficient;
};
ForceHarmonics force_harmonics(const RigidCut& cut, int count);

}  // namespace standfast
