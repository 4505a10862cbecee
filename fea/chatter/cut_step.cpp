#include "fea/chatter/cut_step.hpp"

#include <Eigen/LU>
#include <algorithm>
#include <cmath>
#include <complex>
#include <numbers>

#include "fea/chatter/gauss_rule.hpp"

namespace standfast {
namespace {

using Eigen::Index;
using Eigen::MatrixXcd;
using Eigen::MatrixXd;
using Eigen::Vector3d;
using Eigen::VectorXd;

// Row `row` of W at an angle. Of the chip alone: the direction in which it grows.
Vector3d sensed_direction(const Sensing& sensing, Index row, double angle) {
    if (sensing.chip_alone) return {std::sin(angle), std::cos(angle), 0};
    return Vector3d::Unit(sensing.axes[static_cast<std::size_t>(row)]);
}

// P of A = P W, 3 x rows; three rows at most, so nothing is allocated.
using Factor = Eigen::Matrix<double, 3, Eigen::Dynamic, Eigen::ColMajor, 3, 3>;

Factor force_factor(const Eigen::Matrix3d& directional, const Sensing& sensing, double angle) {
    Factor factor(3, sensing.rows());
    for (Index row = 0; row < sensing.rows(); ++row) {
        factor.col(row) = directional * sensed_direction(sensing, row, angle);
    }
    return factor;
}

// exp(lambda T x) at all nodes x (modes x nodes). The nodes lie evenly about 1/2, so that the
// second half follows from the first: exp(l (1 - x)) = exp(l) exp(-l x).
MatrixXcd turns_at(const Eigen::VectorXcd& exponent, const VectorXd& node) {
    const Index count = node.size();
    MatrixXcd turn(exponent.size(), count);
    for (Index m = 0; m < exponent.size(); ++m) {
        const std::complex<double> whole = exponential(exponent[m]);
        for (Index i = 0; i < (count + 1) / 2; ++i) {
            const std::complex<double> value = exponential(exponent[m] * node[i]);
            turn(m, count - 1 - i) = whole * (std::conj(value) / std::norm(value));
            turn(m, i) = value;
        }
    }
    return turn;
}

// The piece's share of everything that the local equations need.
struct Frame {
    const EdgeSum<Eigen::Matrix3d>& directional;
    const ModalState& modes;
    const Sensing& sensing;
    const CutPiece& piece;
    const GaussRule& rule;
    double duration;
    double angle(double share) const { return piece.start + share * piece.length; }
};

// A product without the packing that pays only for large matrices.
template <class Left, class Right>
MatrixXd small_product(const Left& left, const Right& right) {
    if (left.rows() <= 12) return left.lazyProduct(right);
    return left * right;
}

// The inverse by Gauss-Jordan elimination with column pivots; small matrices are done before a
// general routine has begun.
MatrixXd inverse_of(const MatrixXd& matrix) {
    const Index n = matrix.rows();
    if (n > 12) return Eigen::PartialPivLU<MatrixXd>(matrix).inverse();
    MatrixXd left = matrix, right = MatrixXd::Identity(n, n);
    for (Index k = 0; k < n; ++k) {
        Index pivot = k;
        for (Index j = k + 1; j < n; ++j) {
            if (std::abs(left(k, j)) > std::abs(left(k, pivot))) pivot = j;
        }
        if (pivot != k) {
            left.col(k).swap(left.col(pivot));
            right.col(k).swap(right.col(pivot));
        }
        const double scale = 1 / left(k, k);
        for (Index i = 0; i < n; ++i) left(i, k) *= scale;
        for (Index i = 0; i < n; ++i) right(i, k) *= scale;
        for (Index j = 0; j < n; ++j) {
            const double factor = left(k, j);
            if (j == k || factor == 0) continue;
            for (Index i = k; i < n; ++i) left(i, j) -= factor * left(i, k);
            for (Index i = 0; i < n; ++i) right(i, j) -= factor * right(i, k);
        }
    }
    return right;
}

// O: what the modal state at the piece's start would show at the points; rows x 2 modes.
MatrixXd observation(const Frame& frame) {
    const Index points = frame.rule.node.size();
    MatrixXd observed(points * frame.sensing.rows(), 2 * frame.modes.modes());
    const MatrixXcd turn = turns_at(frame.modes.lambda * frame.duration, frame.rule.node);
    for (Index row = 0; row < frame.sensing.rows(); ++row) {
        for (Index i = 0; i < points; ++i) {
            const Vector3d direction =
                sensed_direction(frame.sensing, row, frame.angle(frame.rule.node[i]));
            for (Index m = 0; m < frame.modes.modes(); ++m) {
                const double felt = direction.dot(frame.modes.shape.col(m));
                observed(row * points + i, 2 * m) = turn(m, i).imag() * felt;
                observed(row * points + i, 2 * m + 1) = turn(m, i).real() * felt;
            }
        }
    }
    return observed;
}

// P at the fine points, 3 x fine rows.
MatrixXd fine_forces(const Frame& frame) {
    const Index fine = frame.rule.fine_node.size();
    MatrixXd force(3, fine * frame.sensing.rows());
    for (Index q = 0; q < fine; ++q) {
        const double angle = frame.angle(frame.rule.fine_node[q]);
        const Factor factor =
            force_factor(value_at(frame.directional, angle), frame.sensing, angle);
        for (Index row = 0; row < frame.sensing.rows(); ++row) {
            force.col(row * fine + q) = factor.col(row);
        }
    }
    return force;
}

// Modal states at the piece's start that would act later as unit impulses of z at the fine points.
MatrixXd impulses(const Frame& frame, const MatrixXd& force) {
    const Index fine = frame.rule.fine_node.size();
    MatrixXd input(2 * frame.modes.modes(), force.cols());
    const MatrixXcd back = turns_at(-frame.modes.lambda * frame.duration, frame.rule.fine_node);
    for (Index column = 0; column < force.cols(); ++column) {
        for (Index m = 0; m < frame.modes.modes(); ++m) {
            const double driven = frame.modes.shape.col(m).dot(force.col(column));
            input(2 * m, column) = back(m, column % fine).real() * driven;
            input(2 * m + 1, column) = back(m, column % fine).imag() * driven;
        }
    }
    return input;
}

// 1 - K P. Responses to forces at the fine points are integrated up to each point; the residual
// answers at once.
MatrixXd local_system(const Frame& frame, const MatrixXd& observed, const MatrixXd& input) {
    const Index points = frame.rule.node.size(), fine = frame.rule.fine_node.size();
    const MatrixXd up_to = -frame.duration * frame.rule.integral;
    MatrixXd response = small_product(observed, input);
    MatrixXd local(observed.rows(), observed.rows());
    for (Index b = 0; b < frame.sensing.rows(); ++b) {
        for (Index a = 0; a < frame.sensing.rows(); ++a) {
            response.block(a * points, b * fine, points, fine).array() *= up_to.array();
        }
        local.middleCols(b * points, points) =
            small_product(response.middleCols(b * fine, fine), frame.rule.interpolation);
    }
    local.diagonal().array() += 1;
    return local;
}

void add_residual(const Frame& frame, MatrixXd& local) {
    const Index points = frame.rule.node.size();
    for (Index i = 0; i < points; ++i) {
        const double angle = frame.angle(frame.rule.node[i]);
        const Factor shown = frame.modes.residual *
                             force_factor(value_at(frame.directional, angle), frame.sensing, angle);
        for (Index a = 0; a < frame.sensing.rows(); ++a) {
            const Vector3d direction = sensed_direction(frame.sensing, a, angle);
            for (Index b = 0; b < frame.sensing.rows(); ++b) {
                local(a * points + i, b * points + i) -= direction.dot(shown.col(b));
            }
        }
    }
}

// B: what the forces leave in the modes at the piece's end.
MatrixXd left_behind(const Frame& frame, MatrixXd input) {
    const Index points = frame.rule.node.size(), fine = frame.rule.fine_node.size();
    for (Index column = 0; column < input.cols(); ++column) {
        input.col(column) *= frame.duration * frame.rule.fine_weight[column % fine];
    }
    MatrixXd pushed(input.rows(), points * frame.sensing.rows());
    for (Index b = 0; b < frame.sensing.rows(); ++b) {
        pushed.middleCols(b * points, points) =
            small_product(input.middleCols(b * fine, fine), frame.rule.interpolation);
    }
    turn_modes(turns(frame.modes, frame.duration), pushed);
    return pushed;
}

}  // namespace

Sensing sensing(const DelaySystem& system, const ModalState& modes) {
    const bool square = system.cutter.corner_radius <= 0;
    double pitch = 2 * std::numbers::pi;
    for (int tooth = 0; tooth < system.cutter.teeth(); ++tooth) {
        pitch = std::min(pitch, tooth_pitch(system.cutter, tooth));
    }
    const double engaged = system.engagement.exit - system.engagement.entry;
    Sensing result;
    result.chip_alone = square && system.cutter.helix == 0 && engaged <= pitch * (1 + 1e-12);
    for (int axis = 0; axis < (square ? 2 : 3); ++axis) {
        const bool moves = modes.shape.row(axis).cwiseAbs().sum() > 0 ||
                           modes.residual.row(axis).cwiseAbs().sum() > 0;
        if (moves) result.axes.push_back(axis);
    }
    return result;
}

CutStep cut_step(const EdgeSum<Eigen::Matrix3d>& directional, const ModalState& modes,
                 const Sensing& sensing, const CutPiece& piece, SpindleSpeed speed, int points) {
    const GaussRule& rule = gauss_rule(points);
    const Frame frame{directional, modes, sensing,
                      piece,       rule,  piece.length / speed.radians_per_second};
    CutStep step{.duration = frame.duration, .points = points};
    step.force = fine_forces(frame);
    const MatrixXd observed = observation(frame);
    const MatrixXd input = impulses(frame, step.force);
    MatrixXd local = local_system(frame, observed, input);
    if (!modes.residual.isZero(0)) add_residual(frame, local);
    step.resolvent = inverse_of(local);
    step.shown = small_product(step.resolvent, observed);
    step.pushed = left_behind(frame, input);
    return step;
}

}  // namespace standfast
