#include "fea/chatter/period_map.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "fea/chatter/gauss_rule.hpp"
#include "fea/quantities/require.hpp"

namespace standfast {
namespace {

using Eigen::Index;
using Eigen::MatrixXd;

constexpr double kMostPoints = 24;     // the local equations cost points^3
constexpr double kLargestDecay = 4.0;  // its exponential stays far from rounding

// Response of the relative displacement at angular frequency w.
Eigen::Vector3cd displacement_line(const ModalState& modes, double w,
                                   const Eigen::Vector3cd& force) {
    const std::complex<double> iw(0, w);
    Eigen::Vector3cd response = modes.residual * force;
    for (Index m = 0; m < modes.modes(); ++m) {
        const std::complex<double> lambda = modes.lambda[m];
        const std::complex<double> gain =
            lambda.imag() / ((iw - lambda) * (iw - std::conj(lambda)));
        const auto shape = modes.shape.col(m);
        response += shape * (gain * (shape.transpose() * force).value());
    }
    return response;
}

}  // namespace

PeriodMap::PeriodMap(const DelaySystem& system, SpindleSpeed speed, double depth, double margin)
    : modes_(modal_state(system.receptance)), sensing_(standfast::sensing(system, modes_)) {
    require_positive(speed.radians_per_second, "PeriodMap", "spindle speed");
    require_between(margin, 1, 20, "PeriodMap", "margin");
    size_ = 2 * modes_.modes();
    const EdgeSum<Eigen::Matrix3d> directional = directional_sum(system, depth);
    for (const CutPiece& piece : cut_pieces(system, depth)) {
        if (piece.cutting && !sensing_.axes.empty()) {
            add_piece(directional, speed, margin, piece);
        } else {
            Step flight{.start = period_, .turn = {}, .cut = {}};
            flight.cut.duration = piece.length / speed.radians_per_second;
            flight.turn = turns(modes_, flight.cut.duration);
            period_ += flight.cut.duration;
            steps_.push_back(std::move(flight));
        }
    }
}

void PeriodMap::add_piece(const EdgeSum<Eigen::Matrix3d>& directional, SpindleSpeed speed,
                          double margin, const CutPiece& piece) {
    const double duration = piece.length / speed.radians_per_second;
    const double half_phase = 0.55 * modes_.fastest() * duration + piece.length;
    const int parts = std::max(
        1,
        static_cast<int>(std::ceil(std::max(half_phase / (kMostPoints - margin),
                                            modes_.strongest_decay() * duration / kLargestDecay))));
    const int points = static_cast<int>(std::ceil(half_phase / parts + margin));
    const double length = piece.length / parts;
    for (int part = 0; part < parts; ++part) {
        const CutPiece smaller{piece.start + part * length, length, true};
        Step step{.cutting = true, .start = period_, .turn = {}, .first = size_, .cut = {}};
        step.cut = cut_step(directional, modes_, sensing_, smaller, speed, points);
        step.turn = turns(modes_, step.cut.duration);
        period_ += step.cut.duration;
        size_ += step.cut.rows();
        steps_.push_back(std::move(step));
    }
}

void PeriodMap::advance(const Eigen::Ref<const Eigen::VectorXd>& before,
                        Eigen::VectorXd& after) const {
    after.resize(size_);
    Eigen::VectorXd modal = before.head(modal_size());
    for (const Step& step : steps_) {
        if (step.cutting) {
            const Index rows = step.cut.rows();
            auto chip = after.segment(step.first, rows);
            const auto earlier = before.segment(step.first, rows);
            chip.noalias() = step.cut.shown * modal;
            chip.noalias() -= step.cut.resolvent * earlier;
            turn_modes(step.turn, modal);
            modal.noalias() += step.cut.pushed * chip;
            chip += earlier;
        } else {
            turn_modes(step.turn, modal);
        }
    }
    after.head(modal_size()) = modal;
}

// Every step touches only the modal rows and its own, and only the columns that reach it.
MatrixXd PeriodMap::matrix() const {
    MatrixXd result = MatrixXd::Zero(size_, size_);
    MatrixXd modal = MatrixXd::Identity(modal_size(), size_);
    Index reached = modal_size();
    for (const Step& step : steps_) {
        if (step.cutting) {
            const Index rows = step.cut.rows();
            auto chip = result.middleRows(step.first, rows).leftCols(reached + rows);
            chip.leftCols(reached).noalias() = step.cut.shown * modal.leftCols(reached);
            chip.rightCols(rows) = -step.cut.resolvent;
            reached += rows;
            turn_modes(step.turn, modal.leftCols(reached));
            modal.leftCols(reached).noalias() += step.cut.pushed * chip;
            result.block(step.first, step.first, rows, rows).diagonal().array() += 1;
        } else {
            turn_modes(step.turn, modal.leftCols(reached));
        }
    }
    result.topRows(modal_size()) = modal;
    return result;
}

double PeriodMap::strongest_line(std::complex<double> multiplier,
                                 const Eigen::VectorXcd& state) const {
    const double base = 2 * std::numbers::pi / period_;
    const double shift = std::arg(multiplier) / period_;
    const int last = static_cast<int>(std::ceil(1.5 * modes_.fastest() / base)) + 2;
    double strongest = 0;
    double frequency = 0;
    for (int k = -last; k <= last; ++k) {
        const double w = shift + k * base;
        const double size = displacement_line(modes_, w, force_line(w, multiplier, state)).norm();
        if (size > strongest * (1 + 1e-9)) {
            strongest = size;
            frequency = std::abs(w) / (2 * std::numbers::pi);
        }
    }
    return frequency;
}

// Over a period the eigenvector's y grows by the multiplier, so that z = (multiplier - 1) y.
Eigen::Vector3cd PeriodMap::force_line(double w, std::complex<double> multiplier,
                                       const Eigen::VectorXcd& state) const {
    Eigen::Vector3cd total = Eigen::Vector3cd::Zero();
    const std::complex<double> growth(std::log(std::abs(multiplier)) / period_, w);
    for (const Step& step : steps_) {
        if (!step.cutting) continue;
        const GaussRule& rule = gauss_rule(step.cut.points);
        const Index fine = rule.fine_node.size();
        for (Index row = 0; row < sensing_.rows(); ++row) {
            const Eigen::VectorXcd y =
                rule.interpolation *
                state.segment(step.first + row * step.cut.points, step.cut.points);
            for (Index q = 0; q < fine; ++q) {
                const double time = step.cut.duration * rule.fine_node[q];
                const std::complex<double> scale = step.cut.duration * rule.fine_weight[q] *
                                                   std::exp(-growth * (step.start + time));
                total += step.cut.force.col(row * fine + q) * (scale * y[q]);
            }
        }
    }
    return (multiplier - 1.0) * total / period_;
}

}  // namespace standfast
