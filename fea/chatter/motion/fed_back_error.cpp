#include "fea/chatter/motion/fed_back_error.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>

#include "fea/quantities/require.hpp"

namespace standfast {
namespace {

double mean_of(const std::vector<double>& error) {
    return std::accumulate(error.begin(), error.end(), 0.0) / static_cast<double>(error.size());
}

/// The motion at the radial depth that balances it, and whether one was found.
template <class Motion>
struct Balanced {
    Motion motion;
    bool settled = false;
};

/// @param solve  the motion of a cut
template <class Motion, class Solve>
Balanced<Motion> balanced(const RigidCut& cut, double radial, const Solve& solve) {
    Balanced<Motion> result;
    const auto excess = [&](double actual) {
        RigidCut there = cut;
        there.engagement = engagement(cut.engagement.milling, actual, cut.cutter.diameter);
        result.motion = solve(there);
        return actual - radial - mean_of(result.motion.error);
    };

    const double least = 1e-3 * radial, most = cut.cutter.diameter;
    double before = radial, excess_before = excess(before);
    double actual = std::clamp(radial - excess_before / 2, least, most);
    for (int step = 0; step < 40; ++step) {
        const double now = excess(actual);
        result.settled = std::abs(now) < std::max(1e-9, 1e-3 * std::abs(actual - radial));
        const double change = (actual - before) / (now - excess_before) * now;
        if (result.settled || !std::isfinite(change)) break;
        before = actual;
        excess_before = now;
        const double longest = 0.5 * actual;  // a secant may overshoot where a harmonic rings
        actual = std::clamp(actual - std::clamp(change, -longest, longest), least, most);
        if (actual == before) break;  // held at an end
    }
    return result;
}

RigidCut with_equal_teeth(RigidCut cut) {
    cut.cutter.runout.clear();
    for (int tooth = 0; tooth < cut.cutter.teeth(); ++tooth) {
        cut.cutter.tooth_angle[static_cast<std::size_t>(tooth)] =
            2 * std::numbers::pi * tooth / cut.cutter.teeth();
    }
    return cut;
}

WallMotion changed(WallMotion motion, const WallMotion& before, const WallMotion& after) {
    motion.largest_error = 0;
    for (std::size_t k = 0; k < motion.error.size(); ++k) {
        motion.error[k] += after.error[k] - before.error[k];
        if (std::abs(motion.error[k]) > std::abs(motion.largest_error)) {
            motion.largest_error = motion.error[k];
        }
    }
    return motion;
}

}  // namespace

StableMotion fed_back_motion(const ModalReceptance& receptance, const RigidCut& cut, double radial,
                             SpindleSpeed speed, const std::vector<double>& heights) {
    require_positive(static_cast<double>(heights.size()), "fed_back_motion", "number of heights");
    const auto solve = [&](const RigidCut& there) {
        return stable_motion(receptance, there, speed, heights);
    };
    if (cut.engagement.milling == Milling::slot) return solve(cut);
    return balanced<StableMotion>(cut, radial, solve).motion;
}

std::optional<WallMotion> fed_back_wall(const ModalReceptance& receptance, const RigidCut& cut,
                                        double radial, SpindleSpeed speed,
                                        const std::vector<double>& heights,
                                        const WallMotion& nominal) {
    require_positive(static_cast<double>(heights.size()), "fed_back_wall", "number of heights");
    const auto solve = [&](const RigidCut& there) {
        return WallMotions(receptance, there, speed, heights).at(speed);
    };
    if (cut.engagement.milling == Milling::slot) return nominal;
    if (teeth_differ(cut)) {
        const RigidCut equal = with_equal_teeth(cut);
        const WallMotion before = solve(equal);
        const auto after = fed_back_wall(receptance, equal, radial, speed, heights, before);
        return after ? std::optional(changed(nominal, before, *after)) : std::nullopt;
    }
    Balanced<WallMotion> result = balanced<WallMotion>(cut, radial, solve);
    return result.settled ? std::optional(std::move(result.motion)) : std::nullopt;
}

}  // namespace standfast
