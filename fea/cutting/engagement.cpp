#include "fea/cutting/engagement.hpp"

#include <cmath>
#include <numbers>

#include "fea/quantities/require.hpp"

namespace standfast {

Engagement engagement(Milling milling, double radial, double diameter) {
    require_positive(diameter, "engagement", "cutter diameter");
    if (milling == Milling::slot) return {0, std::numbers::pi, milling};
    require_positive(radial, "engagement", "radial depth");
    require_between(radial, 0, diameter, "engagement", "radial depth");
    // acos(1 - 2 ae/D) by the half angle, so that a thin cut keeps its digits.
    const double width = 2 * std::asin(std::sqrt(radial / diameter));
    if (milling == Milling::up) return {0, width, milling};
    return {std::numbers::pi - width, std::numbers::pi, milling};
}

double mean_chip(const Engagement& engagement, double feed_per_tooth) {
    const double width = engagement.exit - engagement.entry;
    require_positive(width, "mean_chip", "angle of engagement");
    require_not_negative(feed_per_tooth, "mean_chip", "feed per tooth");
    return feed_per_tooth * (std::cos(engagement.entry) - std::cos(engagement.exit)) / width;
}

}  // namespace standfast
