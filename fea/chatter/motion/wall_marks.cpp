#include "fea/chatter/motion/wall_marks.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "fea/quantities/require.hpp"

namespace standfast {
namespace {

/// A parabola about a place along the feed, in units of the feed of a revolution.
struct Arc {
    double place, reach;
};

/// One revolution's arcs and those of the revolutions before and after.
std::vector<Arc> arcs_of(const std::vector<double>& reach, const CutterGeometry& cutter) {
    std::vector<Arc> arcs;
    for (const int turn : {0, -1, 1}) {
        for (std::size_t tooth = 0; tooth < reach.size(); ++tooth) {
            const double place = cutter.tooth_angle[tooth] / (2 * std::numbers::pi);
            arcs.push_back({place + turn, reach[tooth]});
        }
    }
    return arcs;
}

}  // namespace

double wall_waviness(const std::vector<double>& reach, const CutterGeometry& cutter,
                     double feed_per_tooth) {
    require_between(static_cast<double>(reach.size()), cutter.teeth(), cutter.teeth(),
                    "wall_waviness", "number of reaches");
    require_positive(cutter.teeth(), "wall_waviness", "number of teeth");
    require_not_negative(feed_per_tooth, "wall_waviness", "feed per tooth");
    if (feed_per_tooth == 0) return 0;
    // By how much an arc has risen a whole feed of a revolution away from its middle.
    const double rise = std::pow(feed_per_tooth * cutter.teeth(), 2) / cutter.diameter;
    const std::vector<Arc> arcs = arcs_of(reach, cutter);
    const auto height = [&](const Arc& arc, double x) {
        return arc.reach - rise * (x - arc.place) * (x - arc.place);
    };
    const double peak = *std::max_element(reach.begin(), reach.end());
    double valley = peak;
    // The wall is lowest where two arcs that remain cross.
    for (std::size_t i = 0; i < reach.size(); ++i) {
        for (std::size_t j = i + 1; j < arcs.size(); ++j) {
            const Arc &a = arcs[i], &b = arcs[j];
            const double x =
                (a.place + b.place) / 2 + (b.reach - a.reach) / (2 * rise * (a.place - b.place));
            if (x < -1e-9 || x > 1 + 1e-9) continue;  // seen again a revolution on
            double highest = -std::numeric_limits<double>::infinity();
            for (const Arc& arc : arcs) highest = std::max(highest, height(arc, x));
            const double here = height(a, x);
            if (here >= highest - 1e-12 * rise) valley = std::min(valley, here);
        }
    }
    return peak - valley;
}

}  // namespace standfast
