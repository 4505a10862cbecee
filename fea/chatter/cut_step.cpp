#include "fea/chatter/cut_step.hpp"

#include <Eigen/LU>
#include <cmath>
#include <complex>
#include <numbers>

#include "fea/chatter/gauss_rule.hpp"

namespace standfast {
namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

struct Factors {
    MatrixXd force;    // P, 3 x r
    MatrixXd sensing;  // W, r x 3
};

// A matrix of rank one is a column times the direction in which the chip grows; otherwise the felt
// axes are kept.
Factors factors(const Eigen::Matrix3d& directional, const Sensing& sensing, double angle) {
    if (sensing.chip_alone) {
        const Eigen::RowVector3d direction(std::sin(angle), std::cos(angle), 0);
        return {directional * direction.transpose(), direction};
    }
    const auto count = static_cast<Index>(sensing.axes.size());
    Factors result{MatrixXd(3, count), MatrixXd::Zero(count, 3)};
    for (Index k = 0; k < count; ++k) {
        const int axis = sensing.axes[static_cast<std::size_t>(k)];
        result.force.col(k) = directional.col(axis);
        result.sensing(k, axis) = 1;
    }
    return result;
}

// The piece's share of everything that the local equations need.
struct Frame {
    const EdgeSum<Eigen::Matrix3d>& directional;
    const ModalState& modes;
    const Sensing& sensing;
    const CutPiece& piece;
    double duration;
    Index width;  // rows of W

    double angle(double share) const { return piece.start + share * piece.length; }
    Factors factors_at(double share) const {
        const double phi = angle(share);
        return factors(value_at(directional, phi), sensing, phi);
    }
};

// O, rows x 2 modes, and the residual's part of K P, which acts at once.
void observe(const Frame& frame, const GaussRule& rule, MatrixXd& observed, MatrixXd& local) {
    for (Index i = 0; i < rule.node.size(); ++i) {
        const Index first = i * frame.width;
        const Factors factor = frame.factors_at(rule.node[i]);
        const MatrixXd felt = factor.sensing * frame.modes.shape;
        for (Index m = 0; m < frame.modes.modes(); ++m) {
            const std::complex<double> turn =
                std::exp(frame.modes.lambda[m] * (rule.node[i] * frame.duration));
            observed.block(first, 2 * m, frame.width, 1) = turn.imag() * felt.col(m);
            observed.block(first, 2 * m + 1, frame.width, 1) = turn.real() * felt.col(m);
        }
        local.block(first, first, frame.width, frame.width) -=
            factor.sensing * frame.modes.residual * factor.force;
    }
}

// Forces at the fine points, and the modal states at the piece's start that would act as they do.
void push(const Frame& frame, const GaussRule& rule, MatrixXd& force, MatrixXd& input) {
    for (Index q = 0; q < rule.fine_node.size(); ++q) {
        const Index first = q * frame.width;
        force.middleCols(first, frame.width) = frame.factors_at(rule.fine_node[q]).force;
        const MatrixXd driven =
            frame.modes.shape.transpose() * force.middleCols(first, frame.width);
        for (Index m = 0; m < frame.modes.modes(); ++m) {
            const std::complex<double> back =
                std::exp(-frame.modes.lambda[m] * (rule.fine_node[q] * frame.duration));
            input.block(2 * m, first, 1, frame.width) = back.real() * driven.row(m);
            input.block(2 * m + 1, first, 1, frame.width) = back.imag() * driven.row(m);
        }
    }
}

// The rule's matrix acting on each row of W alike.
MatrixXd widened(const MatrixXd& matrix, Index width) {
    if (width == 1) return matrix;
    MatrixXd wide = MatrixXd::Zero(matrix.rows() * width, matrix.cols() * width);
    for (Index i = 0; i < matrix.rows(); ++i) {
        for (Index j = 0; j < matrix.cols(); ++j) {
            for (Index k = 0; k < width; ++k) wide(i * width + k, j * width + k) = matrix(i, j);
        }
    }
    return wide;
}

// Response to unit forces at the fine points, integrated up to each point.
MatrixXd integrated(MatrixXd response, const GaussRule& rule, const Frame& frame) {
    const Index width = frame.width;
    for (Index i = 0; i < rule.node.size(); ++i) {
        for (Index q = 0; q < rule.fine_node.size(); ++q) {
            response.block(i * width, q * width, width, width) *=
                frame.duration * rule.integral(i, q);
        }
    }
    return response;
}

}  // namespace

Sensing sensing(const DelaySystem& system, const ModalState& modes) {
    const bool square = system.cutter.corner_radius <= 0;
    const double pitch = 2 * std::numbers::pi / system.cutter.teeth();
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
    const Index width = sensing.chip_alone ? 1 : static_cast<Index>(sensing.axes.size());
    const Frame frame{directional, modes, sensing, piece, piece.length / speed.radians_per_second,
                      width};
    MatrixXd observed(points * width, 2 * modes.modes());
    MatrixXd local = MatrixXd::Identity(points * width, points * width);
    observe(frame, rule, observed, local);
    CutStep step{.duration = frame.duration, .points = points};
    step.force.resize(3, 2 * points * width);
    MatrixXd input(2 * modes.modes(), 2 * points * width);
    push(frame, rule, step.force, input);

    step.interpolation = widened(rule.interpolation, width);
    local.noalias() -= integrated(observed * input, rule, frame) * step.interpolation;
    step.resolvent = Eigen::PartialPivLU<MatrixXd>(local).inverse();
    step.shown.noalias() = step.resolvent * observed;

    step.time = frame.duration * rule.fine_node;
    step.weight = frame.duration * rule.fine_weight;
    for (Index column = 0; column < input.cols(); ++column) {
        input.col(column) *= step.weight[column / width];
    }
    turn_modes(turns(modes, frame.duration), input);
    step.pushed.noalias() = input * step.interpolation;
    return step;
}

}  // namespace standfast
