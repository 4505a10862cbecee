#pragma once

#include <Eigen/Core>
#include <array>
#include <complex>
#include <vector>

namespace standfast {

inline constexpr int kMostHeights = 4;
inline constexpr int kMostCoordinates = 3 * kMostHeights + 2;

/// Sized by the coordinates of an edge, without allocation.
using EdgeVector = Eigen::Matrix<double, Eigen::Dynamic, 1, Eigen::ColMajor, kMostCoordinates, 1>;
using EdgeMatrix = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::ColMajor,
                                 kMostCoordinates, kMostCoordinates>;
using ComplexEdgeVector =
    Eigen::Matrix<std::complex<double>, Eigen::Dynamic, 1, Eigen::ColMajor, kMostCoordinates, 1>;
using ComplexEdgeMatrix = Eigen::Matrix<std::complex<double>, Eigen::Dynamic, Eigen::Dynamic,
                                        Eigen::ColMajor, kMostCoordinates, kMostCoordinates>;

/// The displacement along a cutting edge by its values at a few heights:
///
///     d(z) = sum over heights a of L_a(z) d_a,   L_a the Lagrange polynomials through the heights
///
/// Coordinates: x, y, z at the first height, then at the next, ...; where the axial force has a
/// lever, two more follow: the slopes d' of x and y of the tool (rad) in the middle of the cut.
/// What works against a coordinate is the force on the edge weighted with its polynomial:
///
///     P_a = integral of L_a(z) f(z) dz;   against the slopes  -lever (sin, cos)(angle) f_z,
///
/// since an edge at (R sin, R cos) of an axis that leans by d' sinks by R (sin d_x' + cos d_y').
/// With one height d is the same all along: a point.
struct EdgeBasis {
    std::vector<double> height = {0.0};  ///< m above the tip, distinct, at most kMostHeights
    double lever = 0;                    ///< m, radius at which the axial force acts; 0: none

    int heights() const { return static_cast<int>(height.size()); }
    bool is_point() const { return height.size() == 1 && lever == 0; }
    Eigen::Index size() const { return 3 * heights() + (lever > 0 ? 2 : 0); }
    bool operator==(const EdgeBasis&) const = default;
};

/// L_a(z) of each height; those beyond the basis's are 0.
using EdgeWeights = std::array<double, kMostHeights>;
EdgeWeights weights_at(const EdgeBasis& basis, double z);

/// `count` heights between tip and depth at the points of Gauss-Legendre quadrature: with them the
/// integrals of L_a L_b over a straight edge are diagonal, and twice as many powers of z are
/// integrated rightly as are interpolated.
std::vector<double> gauss_heights(int count, double depth);

/// d(z), 3.
Eigen::Vector3d displacement_at(const EdgeBasis& basis, const EdgeVector& coordinates, double z);

}  // namespace standfast
