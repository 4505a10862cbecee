#include "fea/judgement/pass/march_pass.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "fea/chatter/motion/wall_marks.hpp"

namespace standfast {
namespace {

constexpr double kSettled = 0.01;      // of the motion, between successive periods
constexpr double kStillFalling = 0.9;  // from one window to the next
constexpr double kDoubling = 0.1;      // two periods apart against one
constexpr int kDoublings = 5;

/// Sizes over a window of steps: of the motion, and of what differs one and two periods apart.
struct Recurrence {
    double motion = 0, by_one = 0, by_two = 0;
};

int period_of(const March& march) {
    return march.steps_per_revolution / (march.repeats_by_tooth ? march.teeth : 1);
}

Recurrence recurrence(const March& march, int end, int window) {
    const auto at = [&](int k) -> const Eigen::Vector3d& {
        return march.displacement[static_cast<std::size_t>(k)];
    };
    const int period = period_of(march);
    const int begin = std::max(end - window, 2 * period);
    Eigen::Vector3d mean = Eigen::Vector3d::Zero();
    for (int k = begin; k < end; ++k) mean += at(k) / (end - begin);
    Recurrence sizes;
    for (int k = begin; k < end; ++k) {
        sizes.motion += (at(k) - mean).squaredNorm();
        sizes.by_one += (at(k) - at(k - period)).squaredNorm();
        sizes.by_two += (at(k) - at(k - 2 * period)).squaredNorm();
    }
    return {std::sqrt(sizes.motion), std::sqrt(sizes.by_one), std::sqrt(sizes.by_two)};
}

int window_of(const March& march) {
    const int total = static_cast<int>(march.displacement.size());
    return std::max(march.steps_per_revolution, total / 6);
}

MarchOutcome outcome_of(const March& march) {
    const int total = static_cast<int>(march.displacement.size()), window = window_of(march);
    const Recurrence last = recurrence(march, total, window);
    if (last.by_one <= kSettled * last.motion || last.motion == 0) return MarchOutcome::dies_away;
    const Recurrence before = recurrence(march, total - 2 * window, window);
    if (last.by_one < kStillFalling * before.by_one) return MarchOutcome::undecided;
    if (last.by_two < kDoubling * last.by_one) return MarchOutcome::period_doubling;
    // A slow beginning: the motion has not yet come to what the teeth leave of it.
    if (last.by_one > before.by_one / kStillFalling && last.by_one < 0.3 * last.motion) {
        return MarchOutcome::undecided;
    }
    return MarchOutcome::grows;
}

/// Revolutions in which the slowest mode rings out to a thousandth.
int first_length(const ModalReceptance& receptance, SpindleSpeed speed) {
    double slowest = 0;  // s
    for (const ModalTerm& term : receptance.terms) {
        const double decay = term.damping_ratio * term.frequency.radians_per_second;
        if (decay > 0) slowest = std::max(slowest, std::log(1000.0) / decay);
    }
    const double revolutions = slowest * speed.revolutions_per_second();
    return static_cast<int>(std::ceil(std::clamp(revolutions, 20.0, 60.0)));
}

/// As long as the differences that it rests on are not yet rounding.
std::optional<double> small_growth(const ModalReceptance& receptance, RigidCut cut,
                                   SpindleSpeed speed) {
    cut.cutter.runout.clear();
    const int most = std::clamp(160 / cut.cutter.teeth(), 12, 60);
    March march = time_march(receptance, cut, speed, {.revolutions = most, .leaves_cut = false});
    for (int revolutions = most; revolutions >= 6; revolutions = revolutions * 3 / 4) {
        const int steps = revolutions * march.steps_per_revolution;
        march.displacement.resize(static_cast<std::size_t>(steps));
        const Recurrence sizes = recurrence(march, steps, march.steps_per_revolution);
        if (sizes.by_one > 1e-8 * sizes.motion) return growth_per_tooth(march);
    }
    return std::nullopt;
}

void measure(MarchResult& result) {
    const March& march = *result.march;
    const int last = std::min(result.revolutions / 2, std::max(1, result.revolutions / 6));
    result.settled_over = last;
    const auto first = static_cast<std::ptrdiff_t>(last) * march.steps_per_revolution;
    Eigen::Array3d low = march.displacement.back().array(), high = low, force{0, 0, 0};
    std::for_each(march.displacement.end() - first, march.displacement.end(),
                  [&](const Eigen::Vector3d& d) {
                      low = low.min(d.array());
                      high = high.max(d.array());
                  });
    std::for_each(march.force.end() - first, march.force.end(),
                  [&](const Eigen::Vector3d& f) { force = force.max(f.array().abs()); });
    result.peak_to_peak = high - low;
    result.peak_force = force;
}

void measure_wall(MarchResult& result, const RigidCut& cut) {
    const March& march = *result.march;
    double largest = 0, waviness = 0;
    for (std::size_t k = 0; k < march.wall_error.size(); ++k) {
        if (std::abs(march.wall_error[k]) > std::abs(largest)) largest = march.wall_error[k];
        waviness =
            std::max(waviness, wall_waviness(march.wall_reach[k], cut.cutter, cut.feed_per_tooth));
    }
    result.error = largest;
    result.waviness = waviness;
}

}  // namespace

MarchResult march_cut(const ModalReceptance& receptance, const RigidCut& cut, SpindleSpeed speed) {
    MarchResult result;
    result.speed = speed;
    result.depth = cut.depth;
    result.revolutions = first_length(receptance, speed);
    for (int doubling = 0;; ++doubling) {
        result.march = std::make_shared<const March>(
            time_march(receptance, cut, speed, {.revolutions = result.revolutions}));
        result.outcome = outcome_of(*result.march);
        if (result.outcome != MarchOutcome::undecided || doubling == kDoublings) break;
        result.revolutions *= 2;
    }
    result.growth_per_tooth = small_growth(receptance, cut, speed);
    if (result.outcome == MarchOutcome::undecided && result.growth_per_tooth.value_or(0) > 1) {
        result.outcome = MarchOutcome::grows;
    }
    measure(result);
    if (result.outcome == MarchOutcome::dies_away) measure_wall(result, cut);
    return result;
}

MarchResult march_pass(const CutProblem& problem, double heading, SpindleSpeed speed,
                       double depth) {
    RigidCut cut = problem.cut;
    cut.depth = depth;
    return march_cut(edge_at_heading(problem, heading, depth), cut, speed);
}

}  // namespace standfast
