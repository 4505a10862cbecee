#include "fea/solution/line_receptance.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "fea/quantities/require.hpp"
#include "fea/solution/complex_modes.hpp"
#include "fea/solution/statics.hpp"

namespace standfast {
namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

// A shape whose phase turns by less than this share is real.
constexpr double kSamePhase = 1e-6;

// 3 coordinates x 3 points: rows of the basis from values at the points.
MatrixXd rows_of(const LineReceptance& line, const EdgeBasis& basis, double offset, double depth,
                 bool slopes) {
    const auto points = static_cast<Index>(line.point.size());
    MatrixXd rows = MatrixXd::Zero(basis.size(), 3 * points);
    for (int a = 0; a < basis.heights(); ++a) {
        const VectorXd weights =
            line_weights(line.point, offset + basis.height[static_cast<std::size_t>(a)]);
        for (Index k = 0; k < points; ++k) {
            rows.block<3, 3>(3 * a, 3 * k).diagonal().setConstant(weights[k]);
        }
    }
    if (basis.lever > 0 && slopes && points > 1) {
        const VectorXd weights = line_slope_weights(line.point, offset + depth / 2);
        for (Index k = 0; k < points; ++k) {
            rows.block<2, 2>(3 * basis.heights(), 3 * k).diagonal().setConstant(weights[k]);
        }
    }
    return rows;
}

}  // namespace

Eigen::MatrixXd static_part(const LineMode& mode) {
    const double w = mode.frequency.radians_per_second;
    const double damped = w * std::sqrt(1 - mode.damping_ratio * mode.damping_ratio);
    const std::complex<double> pole(-mode.damping_ratio * w, damped);
    const Eigen::Map<const Eigen::VectorXcd> shape(mode.shape.data(), mode.shape.size());
    return (shape * shape.transpose() / (-pole * damped)).imag();
}

std::vector<double> line_points(double length, int count) {
    require_positive(length, "line_points", "length");
    require_between(count, 2, 64, "line_points", "number of points");
    std::vector<double> points;
    for (int k = 0; k < count; ++k) {
        points.push_back(length * (1 - std::cos(std::numbers::pi * k / (count - 1))) / 2);
    }
    return points;
}

VectorXd line_weights(const std::vector<double>& point, double x) {
    const auto count = static_cast<Index>(point.size());
    VectorXd weights = VectorXd::Ones(count);
    for (Index a = 0; a < count; ++a) {
        const double at = point[static_cast<std::size_t>(a)];
        for (const double other : point) {
            if (other != at) weights[a] *= (x - other) / (at - other);
        }
    }
    return weights;
}

VectorXd line_slope_weights(const std::vector<double>& point, double x) {
    const auto count = static_cast<Index>(point.size());
    VectorXd weights = VectorXd::Zero(count);
    for (Index a = 0; a < count; ++a) {
        const double at = point[static_cast<std::size_t>(a)];
        for (const double left_out : point) {
            if (left_out == at) continue;
            double product = 1 / (at - left_out);
            for (const double other : point) {
                if (other != at && other != left_out) product *= (x - other) / (at - other);
            }
            weights[a] += product;
        }
    }
    return weights;
}

LineReceptance line_receptance(const AssembledSystem& system, const std::vector<Mode>& modes,
                               const std::vector<double>& point,
                               const Eigen::SparseMatrix<double, Eigen::RowMajor>& at) {
    const auto rows = static_cast<double>(3 * point.size());
    require_between(static_cast<double>(at.rows()), rows, rows, "line_receptance", "rows");
    LineReceptance line{.point = point};
    for (const ComplexMode& mode : complex_modes(system, modes, at)) {
        line.modes.push_back({mode.frequency, mode.damping_ratio,
                              Eigen::Map<const Eigen::Matrix3Xcd>(
                                  mode.shape.data(), 3, static_cast<Index>(point.size()))});
    }
    const MatrixXd loads = MatrixXd(at).transpose();
    const MatrixXd compliance = at * StaticSolution(system).displacements(loads);
    line.residual = (compliance + compliance.transpose()) / 2;
    for (const LineMode& mode : line.modes) line.residual -= static_part(mode);
    return line;
}

LineReceptance rigid_line(const ModalReceptance& of_point) {
    LineReceptance line;
    line.residual = of_point.residual;
    for (const ModalTerm& term : of_point.terms) {
        line.modes.push_back(
            {term.frequency, term.damping_ratio, term.shape.cast<std::complex<double>>()});
    }
    return line;
}

LineReceptance in_axes(const LineReceptance& line, const Eigen::Matrix3d& axes) {
    LineReceptance result = line;
    for (LineMode& mode : result.modes) mode.shape = axes.transpose() * mode.shape;
    const auto points = static_cast<Index>(line.point.size());
    for (Index a = 0; a < points; ++a) {
        for (Index b = 0; b < points; ++b) {
            result.residual.block<3, 3>(3 * a, 3 * b) =
                axes.transpose() * line.residual.block<3, 3>(3 * a, 3 * b) * axes;
        }
    }
    return result;
}

ModalReceptance along_edge(const LineReceptance& line, const EdgeBasis& basis, double offset,
                           double depth, bool slopes) {
    const MatrixXd rows = rows_of(line, basis, offset, depth, slopes);
    ModalReceptance edge{
        .terms = {}, .residual = rows * line.residual * rows.transpose(), .basis = basis};
    edge.terms.reserve(line.modes.size());
    for (const LineMode& mode : line.modes) {
        const Eigen::Map<const Eigen::VectorXcd> shape(mode.shape.data(), mode.shape.size());
        ModalTerm term{.frequency = mode.frequency, .damping_ratio = mode.damping_ratio};
        term.shape = rows * shape.real();
        const double out = shape.imag().cwiseAbs().maxCoeff();
        if (out > kSamePhase * shape.real().cwiseAbs().maxCoeff()) {
            term.out_of_phase = rows * shape.imag();
        }
        edge.terms.push_back(std::move(term));
    }
    return edge;
}

}  // namespace standfast
