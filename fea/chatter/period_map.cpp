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

constexpr double kMostPoints = 12;     // the local equations cost points^3
constexpr double kLeastGain = 4;       // points beyond the margin, in a piece of many
constexpr double kLargestDecay = 4.0;  // its exponential stays far from rounding

// rad/s: the fastest mode, stiffened or softened by the cut as it would be without delay.
double fastest_in_cut(const ModalState& modes, const EdgeSum<Eigen::Matrix3d>& directional,
                      const CutPiece& piece) {
    double fastest = 0;
    for (const double share : {0.25, 0.75}) {
        const Eigen::Matrix3d a = value_at(directional, piece.start + share * piece.length);
        for (Index m = 0; m < modes.modes(); ++m) {
            const auto shape = modes.shape.col(m);
            const double stiffening = std::abs(shape.dot(a * shape)) * modes.lambda[m].imag();
            fastest = std::max(fastest, std::norm(modes.lambda[m]) + stiffening);
        }
    }
    return std::sqrt(fastest);
}

// The same turn, begun where the first edge enters after free flight.
std::vector<CutPiece> first_cut_first(std::vector<CutPiece> pieces) {
    for (std::size_t k = 1; k < pieces.size(); ++k) {
        if (pieces[k].cutting && !pieces[k - 1].cutting) {
            std::rotate(pieces.begin(), pieces.begin() + static_cast<std::ptrdiff_t>(k),
                        pieces.end());
            break;
        }
    }
    return pieces;
}

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

PreparedCut prepare_cut(const DelaySystem& system, double depth) {
    const ModalState modes = modal_state(system.receptance);
    if (system.cutter.evenly_spaced()) {
        return {modes,
                sensing(system, modes),
                directional_sum(system, depth),
                cut_pieces(system, depth),
                {}};
    }
    DelaySystem alone = system;
    alone.cutter.tooth_angle = {0.0};
    PreparedCut cut{modes, sensing(system, modes), directional_sum(alone, depth), {}, {}};
    double engaged = 0;
    for (const CutPiece& piece : first_cut_first(cut_pieces(alone, depth))) {
        if (!piece.cutting) break;
        cut.pieces.push_back(piece);
        engaged += piece.length;
    }
    for (int tooth = 0; tooth < system.cutter.teeth(); ++tooth) {
        cut.pitch.push_back(tooth_pitch(system.cutter, (tooth + 1) % system.cutter.teeth()));
        require_not_negative(cut.pitch.back() - engaged, "prepare_cut",
                             "pitch minus engaged angle of teeth of unequal pitch");
    }
    return cut;
}

PeriodMap::PeriodMap(const PreparedCut& cut, SpindleSpeed speed, double margin)
    : modes_(cut.modes), sensing_(cut.sensing), size_(2 * cut.modes.modes()) {
    require_positive(speed.radians_per_second, "PeriodMap", "spindle speed");
    require_between(margin, 1, 20, "PeriodMap", "margin");
    for (const CutPiece& piece : cut.pieces) {
        if (piece.cutting && !sensing_.axes.empty()) {
            add_piece(cut, speed, margin, piece);
        } else {
            add_flight(piece.length / speed.radians_per_second);
        }
    }
    if (!cut.pitch.empty()) repeat_for_each_tooth(cut, speed);
}

void PeriodMap::add_flight(double duration) {
    Step flight{.start = period_, .turn = turns(modes_, duration), .cut = {}};
    flight.cut.duration = duration;
    period_ += duration;
    steps_.push_back(std::move(flight));
}

// Each tooth's pieces are followed by free flight until the next; y is kept in one place, since
// every tooth meets what the one before it left.
void PeriodMap::repeat_for_each_tooth(const PreparedCut& cut, SpindleSpeed speed) {
    const std::vector<Step> pass = std::move(steps_);
    const double engaged = period_;
    steps_.clear();
    period_ = 0;
    passes_ = static_cast<int>(cut.pitch.size());
    for (const double pitch : cut.pitch) {
        for (const Step& step : pass) {
            steps_.push_back(step);
            steps_.back().start = period_;
            period_ += step.cut.duration;
        }
        add_flight(pitch / speed.radians_per_second - engaged);
    }
}

void PeriodMap::add_piece(const PreparedCut& cut, SpindleSpeed speed, double margin,
                          const CutPiece& piece) {
    const double duration = piece.length / speed.radians_per_second;
    const double half_phase =
        0.5 * fastest_in_cut(modes_, cut.directional, piece) * duration + piece.length;
    const int parts = std::max(
        1,
        static_cast<int>(std::ceil(std::max(half_phase / std::max(kMostPoints - margin, kLeastGain),
                                            modes_.strongest_decay() * duration / kLargestDecay))));
    const int points = static_cast<int>(std::ceil(half_phase / parts + margin));
    const double length = piece.length / parts;
    for (int part = 0; part < parts; ++part) {
        const CutPiece smaller{piece.start + part * length, length, true};
        Step step{.cutting = true, .start = period_, .turn = {}, .first = size_, .cut = {}};
        step.cut = cut_step(cut.directional, modes_, sensing_, smaller, speed, points);
        step.turn = turns(modes_, step.cut.duration);
        period_ += step.cut.duration;
        size_ += step.cut.rows();
        steps_.push_back(std::move(step));
    }
}

void PeriodMap::advance(const Eigen::Ref<const Eigen::VectorXd>& before,
                        Eigen::VectorXd& after) const {
    after = before;
    Eigen::VectorXd modal = before.head(modal_size());
    Eigen::VectorXd chips(size_);
    for (const Step& step : steps_) {
        if (step.cutting) {
            auto chip = chips.segment(step.first, step.cut.rows());
            auto sensed = after.segment(step.first, step.cut.rows());
            chip.noalias() = step.cut.shown * modal;
            chip.noalias() -= step.cut.resolvent * sensed;
            sensed += chip;
            turn_modes(step.turn, modal);
            modal.noalias() += step.cut.pushed * chip;
        } else {
            turn_modes(step.turn, modal);
        }
    }
    after.head(modal_size()) = modal;
}

// Every step touches only the modal rows and its own, and only the columns that reach it.
MatrixXd PeriodMap::matrix() const {
    if (passes_ > 1) return matrix_by_columns();
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
    Impulses impulses = impulses_of(chips(multiplier, state));
    const double decay = std::log(std::abs(multiplier)) / period_;
    // From line to line every impulse turns by the same angle.
    Eigen::VectorXcd turn(impulses.time.size());
    for (Index q = 0; q < turn.size(); ++q) {
        turn[q] = exponential({0, -base * impulses.time[q]});
        impulses.force.col(q) *=
            exponential(-std::complex<double>(decay, shift - last * base) * impulses.time[q]);
    }
    double strongest = 0;
    double frequency = 0;
    for (int k = -last; k <= last; ++k) {
        const double w = shift + k * base;
        const double size = displacement_line(modes_, w, impulses.force.rowwise().sum()).norm();
        if (size > strongest * (1 + 1e-9)) {
            strongest = size;
            frequency = std::abs(w) / (2 * std::numbers::pi);
        }
        impulses.force.array().rowwise() *= turn.transpose().array();
    }
    return frequency;
}

// Over a period the eigenvector's y grows by the multiplier; where each place is passed once, z is
// (multiplier - 1) y. Otherwise the motion is followed.
std::vector<Eigen::VectorXcd> PeriodMap::chips(std::complex<double> multiplier,
                                               const Eigen::VectorXcd& state) const {
    std::vector<Eigen::VectorXcd> result;
    Eigen::MatrixXd sensed(size_, 2);
    sensed << state.real(), state.imag();
    Eigen::MatrixXd modal = sensed.topRows(modal_size());
    for (const Step& step : steps_) {
        Eigen::VectorXcd z(step.cut.rows());
        if (step.cutting && passes_ == 1) {
            z = (multiplier - 1.0) * state.segment(step.first, step.cut.rows());
        } else if (step.cutting) {
            auto earlier = sensed.middleRows(step.first, step.cut.rows());
            const Eigen::MatrixXd both = step.cut.shown * modal - step.cut.resolvent * earlier;
            earlier += both;
            z.real() = both.col(0);
            z.imag() = both.col(1);
            turn_modes(step.turn, modal);
            modal += step.cut.pushed * both;
        } else {
            turn_modes(step.turn, modal);
        }
        result.push_back(std::move(z));
    }
    return result;
}

PeriodMap::Impulses PeriodMap::impulses_of(const std::vector<Eigen::VectorXcd>& chip) const {
    std::vector<double> time;
    std::vector<Eigen::Vector3cd> force;
    for (std::size_t k = 0; k < steps_.size(); ++k) {
        const Step& step = steps_[k];
        if (!step.cutting) continue;
        const GaussRule& rule = gauss_rule(step.cut.points);
        const Index fine = rule.fine_node.size();
        for (Index row = 0; row < sensing_.rows(); ++row) {
            const Eigen::VectorXcd z =
                rule.interpolation * chip[k].segment(row * step.cut.points, step.cut.points);
            for (Index q = 0; q < fine; ++q) {
                time.push_back(step.start + step.cut.duration * rule.fine_node[q]);
                force.push_back(step.cut.force.col(row * fine + q) *
                                (step.cut.duration * rule.fine_weight[q] * z[q]));
            }
        }
    }
    Impulses impulses{Eigen::VectorXd(time.size()), Eigen::Matrix3Xcd(3, force.size())};
    for (std::size_t q = 0; q < time.size(); ++q) {
        impulses.time[static_cast<Index>(q)] = time[q];
        impulses.force.col(static_cast<Index>(q)) = force[q];
    }
    return impulses;
}

MatrixXd PeriodMap::matrix_by_columns() const {
    MatrixXd result(size_, size_);
    Eigen::VectorXd image(size_);
    for (Index column = 0; column < size_; ++column) {
        advance(Eigen::VectorXd::Unit(size_, column), image);
        result.col(column) = image;
    }
    return result;
}

}  // namespace standfast
