#include "fea/chatter/limits/depth_crossing.hpp"

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

}  // namespace

Crossing crossing(const DepthScan& scan, const Bracket& bracket, double tolerance) {
    const ScanPoint& low = bracket.low;
    const ScanPoint& high = bracket.high;
    double a = std::log(low.depth), fa = low.growth;
    double b = std::log(high.depth), fb = high.growth;
    const double chord = (fb - fa) / (b - a);
    double slope = chord;
    Eigen::VectorXd motion = high.motion;
    for (int step = 0; step < 60 && std::abs(b - a) > tolerance; ++step) {
        const double c = (a * fb - b * fa) / (fb - fa);
        const ScanPoint point = scan.at(std::exp(c), motion);
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
            slope};
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
