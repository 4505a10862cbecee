#include "fea/judgement/speed/spindle_power.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "fea/quantities/require.hpp"

namespace standfast {
namespace {

/// Given over what is usual; none where neither is known.
std::optional<double> rating(const std::optional<double>& given, double usual) {
    if (given) return given;
    return usual > 0 ? std::optional(usual) : std::nullopt;
}

/// What the ratings leave at a turning speed, rad/s: the smaller of the two, none where neither is.
std::optional<double> torque_at(double turning, const std::optional<double>& power,
                                const std::optional<double>& most_torque) {
    constexpr double kNoBound = std::numeric_limits<double>::infinity();
    const double bound =
        std::min(most_torque.value_or(kNoBound), power.value_or(kNoBound) / turning);
    return bound < kNoBound ? std::optional(bound) : std::nullopt;
}

}  // namespace

double mean_torque(const RigidCut& cut) {
    const double swept = cut.engagement.exit - cut.engagement.entry;
    const double chips =
        cut.feed_per_tooth * (std::cos(cut.engagement.entry) - std::cos(cut.engagement.exit));
    double torque = 0;
    for (const EdgeSlice& slice : edge_slices(cut.cutter, cut.depth)) {
        const double radius =
            cut.cutter.diameter / 2 - cut.cutter.corner_radius * (1 - slice.lead_sine);
        torque +=
            radius * (slice.to - slice.from) *
            (cut.law.tangential * chips + cut.law.tangential_edge * swept * slice.width_per_height);
    }
    return torque * cut.cutter.teeth() / (2 * std::numbers::pi);
}

SpindlePower spindle_power(const Machine& machine, double torque, SpindleSpeed speed) {
    require_not_negative(torque, "spindle_power", "torque");
    require_positive(speed.radians_per_second, "spindle_power", "spindle speed");
    const double turning = speed.radians_per_second;
    const auto power = rating(machine.power, machine.spindle_kind.power);
    const auto most_torque = rating(machine.torque, machine.spindle_kind.torque);
    SpindlePower asked;
    asked.torque = torque;
    asked.power = torque * turning;
    asked.available_torque = torque_at(turning, power, most_torque);
    asked.judged = asked.available_torque.has_value();
    if (!asked.judged) return asked;
    asked.available_power = *asked.available_torque * turning;
    asked.ratio = torque / *asked.available_torque;
    return asked;
}

}  // namespace standfast
