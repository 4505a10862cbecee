#pragma once

#include <Eigen/Core>
#include <vector>

#include "fea/quantities/quantities.hpp"
#include "fea/solution/modal_receptance.hpp"
#include "fea/solution/modes.hpp"
#include "fea/structure/assembly.hpp"

namespace standfast {

/// A mode along a line of points.
struct LineMode {
    AngularFrequency frequency;
    double damping_ratio = 0;
    Eigen::Matrix3Xcd shape;  ///< 3 x points, kg^-1/2; real but where loss factors turn its phase
};

/// Receptance between the points of a straight line, by modes and a static residual: what one side
/// of a cut shows along the cutting edge. Between the points everything is the polynomial through
/// them, and beyond the ends that polynomial continued.
struct LineReceptance {
    /// m along the line, ascending: points of Chebyshev and Lobatto (line_points); one: the same
    /// everywhere, as of modes measured at a point.
    std::vector<double> point = {0.0};
    std::vector<LineMode> modes;
    Eigen::MatrixXd residual = Eigen::MatrixXd::Zero(3, 3);  ///< 3 points x 3 points, m/N
};

/// The static compliance of one mode between the points, 3 points x 3 points, m/N.
Eigen::MatrixXd static_part(const LineMode& mode);

/// Points for a line from 0 to `length`: cosine-spaced, both ends included.
std::vector<double> line_points(double length, int count);

/// Weights of the values at the points in the value, and in the slope (1/m), at x.
Eigen::VectorXd line_weights(const std::vector<double>& point, double x);
Eigen::VectorXd line_slope_weights(const std::vector<double>& point, double x);

/// @param at     3 points x n, displacement of the points per freedom
/// @param modes  of the system, lowest first; kept
/// Modes are complex where loss factors differ: complex_modes.hpp. The residual makes the static
/// compliance between the points exact.
LineReceptance line_receptance(const AssembledSystem& system, const std::vector<Mode>& modes,
                               const std::vector<double>& point,
                               const Eigen::SparseMatrix<double, Eigen::RowMajor>& at);

/// A receptance of one point as a line that moves as a whole.
LineReceptance rigid_line(const ModalReceptance& of_point);

/// The same line in other axes, as in_axes of a point.
LineReceptance in_axes(const LineReceptance& line, const Eigen::Matrix3d& axes);

/// The receptance of an edge whose height z lies at `offset` + z of the line, in the coordinates of
/// a basis; slopes in the middle of `depth`, where this line has them.
/// @param slopes  false: its slopes are 0 (only the tool leans under the axial force's lever)
ModalReceptance along_edge(const LineReceptance& line, const EdgeBasis& basis, double offset,
                           double depth, bool slopes);

}  // namespace standfast
