#include "fea/chatter/fed_back_error.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "fea/quantities/require.hpp"

namespace standfast {
namespace {

double mean_error(const StableMotion& motion) {
    return std::accumulate(motion.error.begin(), motion.error.end(), 0.0) /
           static_cast<double>(motion.error.size());
}

}  // namespace

StableMotion fed_back_motion(const ModalReceptance& receptance, const RigidCut& cut, double radial,
                             SpindleSpeed speed, const std::vector<double>& heights) {
    require_positive(static_cast<double>(heights.size()), "fed_back_motion", "number of heights");
    if (cut.engagement.milling == Milling::slot) {
        return stable_motion(receptance, cut, speed, heights);
    }
    StableMotion motion;
    const auto excess = [&](double actual) {
        RigidCut there = cut;
        there.engagement = engagement(cut.engagement.milling, actual, cut.cutter.diameter);
        motion = stable_motion(receptance, there, speed, heights);
        return actual - radial - mean_error(motion);
    };

    const double least = 1e-3 * radial, most = cut.cutter.diameter;
    double before = radial, excess_before = excess(before);
    double actual = std::clamp(radial - excess_before / 2, least, most);
    for (int step = 0; step < 40; ++step) {
        const double now = excess(actual);
        const double settled = std::max(1e-9, 1e-3 * std::abs(actual - radial));
        const double change = (actual - before) / (now - excess_before) * now;
        if (std::abs(now) < settled || !std::isfinite(change)) break;
        before = actual;
        excess_before = now;
        const double longest = 0.5 * actual;  // a secant may overshoot where a harmonic rings
        actual = std::clamp(actual - std::clamp(change, -longest, longest), least, most);
        if (actual == before) break;  // held at an end
    }
    return motion;
}

}  // namespace standfast
