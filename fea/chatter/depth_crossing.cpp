#include "fea/chatter/depth_crossing.hpp"

#include <Eigen/Core>
#include <algorithm>
#include <cmath>
#include <optional>

namespace standfast {
namespace {

// Between points close together the residual of the multipliers may be all that a slope shows.
bool resembles(double slope, double chord) {
    const double ratio = slope / chord;
    return ratio > 0.2 && ratio < 5;
}

Crossing crossing_of(const DepthScan& scan, std::size_t which, const ScanPoint& low,
                     const ScanPoint& high, double tolerance) {
    double a = std::log(low.depth), fa = low.growth;
    double b = std::log(high.depth), fb = high.growth;
    const double chord = (fb - fa) / (b - a);
    double slope = chord;
    Eigen::VectorXd motion = high.motion;
    for (int step = 0; step < 60 && std::abs(b - a) > tolerance; ++step) {
        const double c = (a * fb - b * fa) / (fb - fa);
        const ScanPoint point = scan.at_one(which, std::exp(c), motion);
        const double fc = point.growth;
        motion = point.motion;
        const double here = (fc - fb) / (c - b);
        if (std::abs(c - b) > tolerance && resembles(here, chord)) slope = here;
        if ((fc < 0) == (fb < 0)) {
            fa *= 0.5;
        } else {
            a = b;
            fa = fb;
        }
        b = c;
        fb = fc;
        if (std::abs(fc) <= tolerance * std::abs(slope)) break;
    }
    // A chord without slope says nothing of where, beyond the bracket itself.
    const double step = slope != 0 ? fb / slope : 0;
    return {std::clamp(std::exp(b - step), std::min(low.depth, high.depth),
                       std::max(low.depth, high.depth)),
            slope, which};
}

// An end of the bracket for one system.
ScanPoint end_of(const DepthScan& scan, std::size_t which, const ScanPoint& end) {
    return end.system == which && end.motion.size() > 0 ? end : scan.at_one(which, end.depth);
}

// A system other than `known` that is already unstable at this depth.
std::optional<ScanPoint> earlier(const DepthScan& scan, double depth, std::size_t known) {
    for (std::size_t which = 0; which < scan.systems.size(); ++which) {
        if (which == known) continue;
        ScanPoint point = scan.at_one(which, depth);
        if (point.growth > 0) return point;
    }
    return std::nullopt;
}

// Where the first system turns unstable.
Crossing rising(const DepthScan& scan, const Bracket& bracket, double tolerance) {
    const std::size_t which = bracket.high.system;
    const ScanPoint low = end_of(scan, which, bracket.low);
    Crossing found = crossing_of(scan, which, low, bracket.high, tolerance);
    while (scan.systems.size() > 1) {
        const auto sooner = earlier(scan, found.depth, found.system);
        if (!sooner) break;
        const ScanPoint below = scan.at_one(sooner->system, bracket.low.depth);
        if (below.growth >= 0) break;
        found = crossing_of(scan, sooner->system, below, *sooner, tolerance);
    }
    return found;
}

// Where the last system turns stable.
Crossing falling(const DepthScan& scan, const Bracket& bracket, double tolerance) {
    Crossing last{bracket.low.depth, 0, bracket.low.system};
    for (std::size_t which = 0; which < scan.systems.size(); ++which) {
        const ScanPoint low = end_of(scan, which, bracket.low);
        if (low.growth <= 0) continue;
        const ScanPoint high = end_of(scan, which, bracket.high);
        const Crossing edge = crossing_of(scan, which, low, high, tolerance);
        if (edge.depth > last.depth) last = edge;
    }
    return last;
}

}  // namespace

Crossing crossing(const DepthScan& scan, const Bracket& bracket, double tolerance) {
    return bracket.high.growth > 0 ? rising(scan, bracket, tolerance)
                                   : falling(scan, bracket, tolerance);
}

std::vector<std::pair<double, double>> stable_islands(DepthScan scan, ScanPoint from, double end,
                                                      double tolerance) {
    std::vector<std::pair<double, double>> islands;
    while (const auto bracket = next_change(scan, from, end)) {
        const double edge = crossing(scan, *bracket, tolerance).depth;
        from = bracket->high;
        if (from.growth < 0) {
            islands.emplace_back(edge, end);
        } else {
            islands.back().second = edge;
        }
    }
    return islands;
}

}  // namespace standfast
