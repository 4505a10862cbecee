#include "fea/chatter/map/period_map.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "fea/chatter/equation/flank_drag.hpp"
#include "fea/chatter/equation/gauss_rule.hpp"
#include "fea/quantities/require.hpp"

namespace standfast {
namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

constexpr double kMostPoints = 12;     // the local equations cost points^3
constexpr double kLeastGain = 4;       // points beyond the margin, in a piece of many
constexpr double kLargestDecay = 4.0;  // its exponential stays far from rounding
constexpr double kTurn = 2 * std::numbers::pi;

// rad/s: the fastest mode, stiffened or softened by the cut as it would be without delay, and the
// strongest decay, 1/s, which rubbing adds to.
struct Pace {
    double fastest = 0, decay = 0;
};

Pace pace_in_cut(const PreparedCut& cut, const ModalState& modes, const CutPiece& piece,
                 const PieceForces& forces) {
    const double cutting_speed = forces.cutting_speed;
    Pace pace{0, modes.strongest_decay()};
    for (const double share : {0.25, 0.75}) {
        const double angle = piece.start + share * piece.length;
        const EdgeMatrix a = directional_at(forces, angle);
        const EdgeMatrix rubbing =
            cut.sensing.rubs ? value_at(cut.rubbing, angle) : EdgeMatrix(0 * a);
        for (Index m = 0; m < modes.modes(); ++m) {
            const auto shape = modes.shape.col(m);
            const std::complex<double> lambda = modes.lambda[m];
            const double stiffening = std::abs(shape.dot(a * shape)) * lambda.imag();
            const double drag =
                std::abs(shape.dot(rubbing * shape)) * lambda.imag() / cutting_speed;
            pace.fastest = std::max(pace.fastest, std::norm(lambda) + stiffening + drag * drag);
            pace.decay = std::max(pace.decay, -lambda.real() + drag);
        }
    }
    pace.fastest = std::sqrt(pace.fastest);
    return pace;
}

ModalState modes_in_cut(const PreparedCut& cut, SpindleSpeed speed) {
    if (cut.mean_rubbing.size() == 0) return cut.modes;
    ModalState dragged = with_flank_drag(cut.modes, cut.mean_rubbing,
                                         speed.radians_per_second * cut.radius, cut.fade);
    return cut.sings > 0 ? without_quiet_modes(dragged, cut.sings) : dragged;
}

SpindleSpeed turning(SpindleSpeed speed) {
    require_positive(speed.radians_per_second, "PeriodMap", "spindle speed");
    return speed;
}

}  // namespace

PeriodMap::PeriodMap(const PreparedCut& cut, SpindleSpeed speed, double margin)
    : modes_(modes_in_cut(cut, turning(speed))), sensing_(cut.sensing), size_(2 * modes_.modes()) {
    require_between(margin, 1, 20, "PeriodMap", "margin");
    plain_ = cut.parts.empty() && !sensing_.rubs;
    for (std::size_t k = 0; k < cut.pieces.size(); ++k) {
        const CutPiece& piece = cut.pieces[k];
        if (piece.cutting && !sensing_.axes.empty()) {
            add_piece(cut, speed, margin, k);
        } else {
            add_flight(piece.start, piece.length, speed);
        }
    }
    if (!cut.pitch.empty()) repeat_for_each_tooth(cut, speed);
    if (!cut.parts.empty()) find_sources();
    teeth_ = passes_;
}

void PeriodMap::add_flight(double angle, double length, SpindleSpeed speed) {
    const double duration = length / speed.radians_per_second;
    Step flight{
        .start = period_, .angle = angle, .length = length, .turn = turns(modes_, duration)};
    flight.cut.duration = duration;
    period_ += duration;
    steps_.push_back(std::move(flight));
}

// Each tooth's pieces are followed by free flight until the next; y is kept in one place, since
// every tooth meets what the one before it left.
void PeriodMap::repeat_for_each_tooth(const PreparedCut& cut, SpindleSpeed speed) {
    const std::vector<Step> pass = std::move(steps_);
    double engaged = 0;
    for (const Step& step : pass) engaged += step.length;
    steps_.clear();
    period_ = 0;
    passes_ = static_cast<int>(cut.pitch.size());
    for (const double pitch : cut.pitch) {
        for (const Step& step : pass) {
            steps_.push_back(step);
            steps_.back().start = period_;
            period_ += step.cut.duration;
        }
        add_flight(0, pitch - engaged, speed);
    }
}

void PeriodMap::add_piece(const PreparedCut& cut, SpindleSpeed speed, double margin,
                          std::size_t which) {
    const CutPiece& piece = cut.pieces[which];
    const double duration = piece.length / speed.radians_per_second;
    PieceForces forces{.directional = cut.directional,
                       .course = cut.course.get(),
                       .piece = which,
                       .course_scale = cut.course_scale,
                       .rubbing = cut.rubbing,
                       .cutting_speed = speed.radians_per_second * cut.radius,
                       .given = cut.given ? &*cut.given : nullptr};
    std::vector<double> delays;
    for (const Regeneration& part : cut.parts) {
        if (value_at(part.directional, piece.start + piece.length / 2).isZero(0)) continue;
        forces.earlier.push_back(&part.directional);
        delays.push_back(part.delay);
    }
    const Pace pace = pace_in_cut(cut, modes_, piece, forces);
    const double half_phase = 0.5 * pace.fastest * duration + piece.length;
    // What an earlier tooth left must be known by then.
    const double in_time =
        delays.empty() ? 0 : piece.length / *std::min_element(delays.begin(), delays.end());
    const int parts =
        std::max(1, static_cast<int>(
                        std::ceil(std::max({half_phase / std::max(kMostPoints - margin, kLeastGain),
                                            pace.decay * duration / kLargestDecay, in_time}))));
    const int points = static_cast<int>(std::ceil(half_phase / parts + margin));
    const double length = piece.length / parts;
    for (int part = 0; part < parts; ++part) {
        const CutPiece smaller{piece.start + part * length, length, true};
        Step step{.cutting = true,
                  .start = period_,
                  .angle = smaller.start,
                  .length = length,
                  .first = size_,
                  .delays = delays};
        step.cut = cut_step(forces, modes_, sensing_, smaller, speed, points);
        step.turn = turns(modes_, step.cut.duration);
        period_ += step.cut.duration;
        size_ += step.cut.kept;
        steps_.push_back(std::move(step));
    }
}

double PeriodMap::missed_by_points(AngularFrequency frequency) const {
    double most = 0;
    for (const Step& step : steps_) {
        if (!step.cutting) continue;
        // Motion turns by twice this in the step, and the directions of the cut by twice its
        // length.
        const double half = 0.5 * frequency.radians_per_second * step.cut.duration + step.length;
        double error = 2;  // of the polynomial in the last Chebyshev term
        for (int point = 1; point <= step.cut.points; ++point) error *= half / (2 * point);
        most = std::max(most, error * error);
    }
    return most;
}

void PeriodMap::find_sources() {
    for (Step& step : steps_) {
        if (step.delays.empty()) continue;
        const VectorXd& node = gauss_rule(step.cut.points).node;
        for (const double delay : step.delays) {
            for (const double share : node) {
                step.sources.push_back(source_of(step.angle + share * step.length - delay));
            }
        }
    }
}

// An angle between two cutting steps by a rounding error belongs to either.
PeriodMap::Source PeriodMap::source_of(double angle) const {
    const double first = steps_.front().angle;
    const double wrapped = first + (angle - first) - kTurn * std::floor((angle - first) / kTurn);
    const Step* nearest = nullptr;
    double away = kTurn;
    for (const Step& step : steps_) {
        if (!step.cutting) continue;
        const double outside =
            std::max({0.0, step.angle - wrapped, wrapped - step.angle - step.length});
        if (outside < away) {
            away = outside;
            nearest = &step;
        }
    }
    if (nearest == nullptr) return {};
    const double share = std::clamp((wrapped - nearest->angle) / nearest->length, 0.0, 1.0);
    return {nearest->first, lagrange_weights(gauss_rule(nearest->cut.points).node, share)};
}

VectorXd PeriodMap::left_before(const Step& step, const VectorXd& state) const {
    const Index points = step.cut.points, rows = sensing_.rows();
    VectorXd left(step.cut.resolvent.cols());
    for (std::size_t k = 0; k < step.sources.size(); ++k) {
        const Source& source = step.sources[k];
        const auto part = static_cast<Index>(k) / points, point = static_cast<Index>(k) % points;
        const Index count = source.weights.size();
        for (Index row = 0; row < rows; ++row) {
            left[(part * rows + row) * points + point] =
                source.weights.dot(state.segment(source.first + row * count, count));
        }
    }
    return left;
}

// One step of the period: what stands in e (see cut_step.hpp), with y and the modes taken along.
VectorXd PeriodMap::take_step(const Step& step, bool forced, VectorXd& state,
                              VectorXd& modal) const {
    if (!step.cutting) {
        turn_modes(step.turn, modal);
        return {};
    }
    const CutStep& cut = step.cut;
    auto kept = state.segment(step.first, cut.kept);
    VectorXd chip = cut.shown * modal;
    if (step.sources.empty()) {
        chip.noalias() -= cut.resolvent * kept;
    } else {
        chip.noalias() -= cut.resolvent * left_before(step, state);
    }
    const bool pushed_anyway = forced && cut.forced.size() > 0;
    if (pushed_anyway) chip += cut.forced;
    if (step.sources.empty()) {
        kept += chip.head(cut.kept);
    } else {
        kept = chip.head(cut.kept);
    }
    turn_modes(step.turn, modal);
    modal.noalias() += cut.pushed * chip;
    if (pushed_anyway) modal += cut.kick;
    return chip;
}

void PeriodMap::run(bool forced, VectorXd& state) const {
    VectorXd modal = state.head(modal_size());
    for (const Step& step : steps_) take_step(step, forced, state, modal);
    state.head(modal_size()) = modal;
}

void PeriodMap::advance_forced(const Eigen::Ref<const VectorXd>& before, VectorXd& after) const {
    after = before;
    run(true, after);
}

void PeriodMap::advance(const Eigen::Ref<const Eigen::VectorXd>& before,
                        Eigen::VectorXd& after) const {
    after = before;
    if (!plain_) return run(false, after);
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
    if (passes_ > 1 || !plain_) return matrix_by_columns();
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
