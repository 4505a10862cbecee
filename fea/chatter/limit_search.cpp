#include "fea/chatter/limit_search.hpp"

#include <Eigen/Core>
#include <algorithm>
#include <cmath>
#include <numbers>

#include "fea/chatter/depth_scan.hpp"
#include "fea/chatter/krylov.hpp"
#include "fea/cutting/edge_slices.hpp"
#include "fea/quantities/for_each_index.hpp"
#include "fea/quantities/require.hpp"

namespace standfast {
namespace {

constexpr double kDepthTolerance = 1e-5;  // of the depth
constexpr double kSettled = 5e-5;         // miss of a finer map that one Newton step makes good
constexpr double kMostMargin = 15;

struct Crossing {
    double depth;
    double slope;  // of the growth by ln depth
};

// Crossing of growth = 0 between two depths of opposite sign: regula falsi in ln depth with the
// stale end's value halved (Illinois).
Crossing crossing(const DepthScan& scan, const Bracket& bracket) {
    double a = std::log(bracket.low.depth), fa = bracket.low.growth;
    double b = std::log(bracket.high.depth), fb = bracket.high.growth;
    double slope = (fb - fa) / (b - a);
    Eigen::VectorXd motion = bracket.high.motion;
    for (int step = 0; step < 60 && std::abs(b - a) > kDepthTolerance; ++step) {
        const double c = (a * fb - b * fa) / (fb - fa);
        const ScanPoint point = scan.at(std::exp(c), motion);
        const double fc = point.growth;
        motion = point.motion;
        if (std::abs(c - b) > kDepthTolerance) slope = (fc - fb) / (c - b);
        if ((fc < 0) == (fb < 0)) {
            fa *= 0.5;
        } else {
            a = b;
            fa = fb;
        }
        b = c;
        fb = fc;
        if (std::abs(fc) <= kDepthTolerance * std::abs(slope)) break;
    }
    return {std::exp(b - fb / slope), slope};
}

// From a crossing of a coarser map to that of this one, which misses it by `miss` in ln depth.
Crossing follow(const DepthScan& scan, Crossing at, double miss) {
    for (int step = 0; step < 8 && std::abs(miss) > kDepthTolerance; ++step) {
        const double before = miss * at.slope;
        const double change = std::clamp(-miss, -0.02, 0.02);
        at.depth *= std::exp(change);
        const double after = scan.at(at.depth).growth;
        const double slope = (after - before) / change;
        if (slope * at.slope > 0) at.slope = slope;
        miss = after / at.slope;
    }
    return at;
}

void describe(const PeriodMap& map, const MapEigenpair& motion, SpeedLimit& limit) {
    const bool doubling = std::abs(std::arg(motion.value)) > std::numbers::pi - 1e-6;
    limit.kind = doubling ? ChatterKind::period_doubling : ChatterKind::quasi_periodic;
    limit.chatter_hertz = map.strongest_line(motion.value, motion.vector);
}

// The crossing followed on finer and finer maps until it stays; the critical motion there.
void settle(DepthScan scan, const Bracket& bracket, SpeedLimit& limit) {
    scan.tolerance = 1e-6;
    Crossing at = crossing(scan, bracket);
    for (scan.margin += 2;; scan.margin += 2) {
        const PeriodMap map(scan.system, scan.speed, at.depth, scan.margin);
        const MapEigenpair motion = dominant_eigenpair(map, 1e-6);
        const double miss = std::log(std::abs(motion.value)) / at.slope;
        if (std::abs(miss) <= kSettled || scan.margin >= kMostMargin) {
            describe(map, motion, limit);
            limit.limit = at.depth * std::exp(-miss);
            return;
        }
        at = follow(scan, at, miss);
    }
}

void find_islands(DepthScan& scan, double end, ScanPoint from, SpeedLimit& limit) {
    while (const auto bracket = next_change(scan, from, end)) {
        const double edge = crossing(scan, *bracket).depth;
        from = bracket->high;
        if (from.growth < 0) {
            limit.islands.emplace_back(edge, end);
        } else {
            limit.islands.back().second = edge;
        }
    }
}

// Teeth of unequal pitch are followed one after the other; deeper than this, the helix lets the
// next one enter before the last has left.
double searchable(const DelaySystem& system, double searched_to) {
    const double lag = std::abs(lag_per_height(system.cutter));
    if (system.cutter.evenly_spaced() || lag == 0) return searched_to;
    double pitch = 2 * std::numbers::pi;
    for (int tooth = 0; tooth < system.cutter.teeth(); ++tooth) {
        pitch = std::min(pitch, tooth_pitch(system.cutter, tooth));
    }
    const double engaged = system.engagement.exit - system.engagement.entry;
    require_positive(pitch - engaged, "periodic_limit",
                     "pitch minus engaged angle of teeth of unequal pitch");
    return std::min(searched_to, (1 - 1e-9) * (pitch - engaged) / lag);
}

}  // namespace

SpeedLimit periodic_limit(const DelaySystem& system, SpindleSpeed speed, double wanted,
                          double islands_to) {
    require_positive(wanted, "periodic_limit", "depth to search to");
    const double searched_to = searchable(system, wanted);
    SpeedLimit limit{speed, {}, {}, {}, {}};
    DepthScan scan{system, speed};
    const auto bracket = next_change(scan, stable_start(scan, searched_to), searched_to);
    if (!bracket) return limit;
    settle(scan, *bracket, limit);
    find_islands(scan, std::min(searched_to, islands_to * *limit.limit), bracket->high, limit);
    return limit;
}

StabilityLimits periodic_limits(const DelaySystem& system, const std::vector<SpindleSpeed>& speeds,
                                double searched_to, double islands_to) {
    StabilityLimits limits{StabilityMethod::periodic, searchable(system, searched_to), {}};
    limits.speeds.resize(speeds.size());
    for_each_index(speeds.size(), [&](std::size_t k) {
        limits.speeds[k] = periodic_limit(system, speeds[k], searched_to, islands_to);
    });
    return limits;
}

}  // namespace standfast
