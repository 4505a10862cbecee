#include "fea/chatter/motion/settled_wall.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "fea/chatter/motion/time_march.hpp"
#include "fea/chatter/motion/wall_marks.hpp"
#include "fea/cutting/edge_slices.hpp"

namespace standfast {
namespace {

constexpr double kTurn = 2 * std::numbers::pi;
constexpr double kSlight = 0.01;  // of the compliance
constexpr double kSettled = 0.01, kRungOut = 50;
constexpr int kLeast = 5, kMost = 160;
constexpr int kSlices = 12;
constexpr double kPerVibration = 24, kPerCut = 40;

double size_of(const ModalTerm& term) {
    return term.shape.squaredNorm() / std::pow(term.frequency.radians_per_second, 2);
}

/// Modes that hardly bear on the motion answer statically.
ModalReceptance without_slight_modes(const ModalReceptance& receptance) {
    const double whole = static_compliance(receptance).trace();
    ModalReceptance kept{{}, receptance.residual, receptance.basis};
    for (const ModalTerm& term : receptance.terms) {
        if (size_of(term) > kSlight * whole) {
            kept.terms.push_back(term);
        } else {
            ModalReceptance slight = receptance;
            slight.terms = {term};
            slight.residual.setZero();
            kept.residual += static_compliance(slight);
        }
    }
    return kept;
}

int steps_of(const ModalReceptance& receptance, const RigidCut& cut, SpindleSpeed speed) {
    double fastest = 0;
    for (const ModalTerm& term : receptance.terms) {
        fastest = std::max(fastest, term.frequency.radians_per_second);
    }
    const double engaged = cut.engagement.exit - cut.engagement.entry;
    return static_cast<int>(
        std::ceil(std::min(1e5, std::max(kPerVibration * fastest / speed.radians_per_second,
                                         kPerCut * kTurn / engaged))));
}

int revolutions_of(const ModalReceptance& receptance, SpindleSpeed speed) {
    double slowest = 0;  // s
    for (const ModalTerm& term : receptance.terms) {
        const double decay = term.damping_ratio * term.frequency.radians_per_second;
        if (decay > 0) slowest = std::max(slowest, std::log(kRungOut) / decay);
    }
    const double revolutions = kLeast + slowest * speed.revolutions_per_second();
    return static_cast<int>(std::min(static_cast<double>(kMost), std::ceil(revolutions)));
}

/// Wall-normal motion of the last revolution, and by how much the one before it differs.
struct LastRevolution {
    double peak_to_peak = 0, change = 0;
};

LastRevolution last_revolution(const March& march) {
    const auto period = static_cast<std::size_t>(march.steps_per_revolution);
    const std::size_t end = march.displacement.size();
    double low = march.displacement.back().y(), high = low, change = 0;
    for (std::size_t k = end - period; k < end; ++k) {
        const double y = march.displacement[k].y();
        low = std::min(low, y);
        high = std::max(high, y);
        change = std::max(change, std::abs(y - march.displacement[k - period].y()));
    }
    return {high - low, change};
}

/// Line through the slices next to a height; one slice stands for all.
double at_height(const std::vector<double>& height, const std::vector<double>& value, double z) {
    if (height.size() < 2) return value.front();
    const auto above = std::upper_bound(height.begin() + 1, height.end() - 1, z);
    const auto k = static_cast<std::size_t>(above - height.begin());
    const double part = (z - height[k - 1]) / (height[k] - height[k - 1]);
    return value[k - 1] + part * (value[k] - value[k - 1]);
}

}  // namespace

WallMotion settled_wall(const ModalReceptance& receptance, const RigidCut& cut, SpindleSpeed speed,
                        const std::vector<double>& heights) {
    const ModalReceptance kept = without_slight_modes(receptance);
    const bool alike = lag_per_height(cut.cutter) == 0 && receptance.basis.is_point();
    MarchSetting setting{.revolutions = revolutions_of(kept, speed),
                         .steps_per_revolution = steps_of(kept, cut, speed),
                         .slices = alike ? 1 : kSlices};
    March march;
    LastRevolution last;
    for (;; setting.revolutions = std::min(2 * setting.revolutions, kMost)) {
        march = time_march(kept, cut, speed, setting);
        last = last_revolution(march);
        if (last.change <= kSettled * last.peak_to_peak || setting.revolutions >= kMost) break;
    }
    WallMotion result;
    result.peak_to_peak = last.peak_to_peak;
    const auto teeth = static_cast<std::size_t>(cut.cutter.teeth());
    for (const double z : heights) {
        std::vector<double> reach(teeth);
        for (std::size_t tooth = 0; tooth < teeth; ++tooth) {
            std::vector<double> along;
            for (const auto& at : march.wall_reach) along.push_back(at[tooth]);
            reach[tooth] = at_height(march.height, along, z);
        }
        result.error.push_back(*std::max_element(reach.begin(), reach.end()));
        if (std::abs(result.error.back()) > std::abs(result.largest_error)) {
            result.largest_error = result.error.back();
        }
        result.waviness =
            std::max(result.waviness, wall_waviness(reach, cut.cutter, cut.feed_per_tooth));
    }
    return result;
}

}  // namespace standfast
