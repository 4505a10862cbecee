#include "fea/chatter/equation/cut_pieces.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "fea/cutting/edge_slices.hpp"
#include "fea/quantities/require.hpp"

namespace standfast {
namespace {

// Shorter stretches than this are rounding, not geometry; rad.
constexpr double kSmallestPiece = 1e-9;

void require_usable(const DelaySystem& system, double depth) {
    require_positive(depth, "cut_pieces", "axial depth");
    require_positive(system.cutter.diameter, "cut_pieces", "cutter diameter");
    require_positive(system.cutter.teeth(), "cut_pieces", "number of teeth");
    require_between(system.cutter.helix, -1.5, 1.5, "cut_pieces", "helix");
    require_positive(system.engagement.exit - system.engagement.entry, "cut_pieces",
                     "exit minus entry");
}

// Lags of the points of the edge at which the integrand or its limits change.
std::vector<double> edge_points(const DelaySystem& system, double depth) {
    const double lag = lag_per_height(system.cutter);
    std::vector<double> points{0.0, lag * depth};
    const double corner = system.cutter.corner_radius;
    if (corner > 0 && corner < depth) points.push_back(lag * corner);
    return points;
}

double wrapped(double angle, double period) {
    const double remainder = std::fmod(angle, period);
    return remainder < 0 ? remainder + period : remainder;
}

std::vector<double> cuts_from_entry(const DelaySystem& system, double depth, double period,
                                    const std::vector<double>& marks) {
    const Engagement& engaged = system.engagement;
    std::vector<double> cuts{0.0, period};
    for (const double point : edge_points(system, depth)) {
        cuts.push_back(wrapped(point, period));
        cuts.push_back(wrapped(engaged.exit - engaged.entry + point, period));
    }
    for (const double mark : marks) cuts.push_back(wrapped(mark - engaged.entry, period));
    std::sort(cuts.begin(), cuts.end());
    return cuts;
}

// Does some edge touch when tooth 0's tip is this far past entry?
bool touches(const DelaySystem& system, double depth, double past_entry, double period) {
    const double lag = lag_per_height(system.cutter) * depth;
    const double first = std::min(0.0, lag);
    const double span = system.engagement.exit - system.engagement.entry + std::abs(lag);
    return wrapped(past_entry - first, period) < span;
}

}  // namespace

std::vector<CutPiece> cut_pieces(const DelaySystem& system, double depth,
                                 const std::vector<double>& marks) {
    require_usable(system, depth);
    const double period = 2 * std::numbers::pi / system.cutter.teeth();
    std::vector<CutPiece> pieces;
    double start = 0;
    for (const double cut : cuts_from_entry(system, depth, period, marks)) {
        const bool last = cut == period;
        if (cut - start < kSmallestPiece && !(last && cut > start)) continue;
        const bool cutting = touches(system, depth, 0.5 * (start + cut), period);
        pieces.push_back({system.engagement.entry + start, cut - start, cutting});
        start = cut;
    }
    return pieces;
}

}  // namespace standfast
