#pragma once

#include <Eigen/Core>

namespace standfast {

/// Places along a line of length 1 at which its properties are wanted, and their weights.
/// Gauss-Legendre, 8 points on [0, 1]: exact to degree 15.
/// Source: Abramowitz & Stegun, table 25.4 (from memory; moments checked in tests).
constexpr int kLinePoints = 8;
using LineValues = Eigen::Matrix<double, kLinePoints, 1>;
const LineValues& line_points();
const LineValues& line_weights();

/// A rod by its axial motion (rigidity E A, N; inertia rho A, kg/m) or by its twist (rigidity G J,
/// N m^2; inertia rho I_p, kg m), each at the points.
struct RodLine {
    double length = 0;  ///< m
    LineValues rigidity, inertia;
};

/// One bending plane of a beam, each at the points: E I, N m^2; kappa G A, N; rho A, kg/m;
/// rho I, kg m.
struct BendingLine {
    double length = 0;  ///< m
    LineValues bending, shear, mass, rotary;
};

template <int Freedoms>
struct LineMatrices {
    Eigen::Matrix<double, Freedoms, Freedoms> stiffness, mass;
};

/// Stiffness and consistent mass of a line with nodes at its start, its end and, as third, in the
/// middle. Freedoms: the motion of each node; bending: deflection and rotation of each.
///
/// Shapes are the motions under loads at the ends; with a middle node also those under the inertia
/// of a rigid translation and, in bending, of a rigid rotation: the first terms of the exact
/// motion in powers of the squared frequency that a middle node can hold. Statics are exact for
/// loads at the nodes, as far as the quadrature goes (1e-7 where the section's size halves).
/// Properties must be positive, rotary may be 0.
/// Source: unit-load theorem, textbook; the series in powers of the squared frequency is that of
///         J. S. Przemieniecki, Theory of Matrix Structural Analysis (1968), chapter 10 (from
///         memory).
template <int Nodes>
LineMatrices<Nodes> rod_matrices(const RodLine& line);
template <int Nodes>
LineMatrices<2 * Nodes> bending_matrices(const BendingLine& line);

}  // namespace standfast
