#include "fea/chatter/limits/limit_search.hpp"

#include <Eigen/Core>
#include <algorithm>
#include <cmath>

#include "fea/chatter/limits/depth_crossing.hpp"
#include "fea/chatter/limits/depth_scan.hpp"
#include "fea/chatter/limits/describe_limit.hpp"
#include "fea/chatter/map/krylov.hpp"
#include "fea/quantities/for_each_index.hpp"
#include "fea/quantities/require.hpp"

namespace standfast {
namespace {

constexpr double kDepthTolerance = 1e-5;  // of the depth
constexpr double kSettled = 5e-5;         // miss of a finer map that one Newton step makes good
constexpr double kMostMargin = 15;
constexpr double kLargestMiss = 0.02;

// From a crossing of a coarser map to that of this one, which misses it by `miss` in ln depth.
Crossing follow(const DepthScan& scan, Crossing at, double miss) {
    for (int step = 0; step < 8 && std::abs(miss) > kDepthTolerance; ++step) {
        const double before = miss * at.slope;
        const double change = std::clamp(-miss, -kLargestMiss, kLargestMiss);
        at.depth *= std::exp(change);
        const double after = scan.at(at.depth).growth;
        const double slope = (after - before) / change;
        if (slope * at.slope > 0) at.slope = slope;
        miss = after / at.slope;
    }
    return at;
}

// The crossing followed on finer and finer maps until it stays; the critical motion there.
void settle(DepthScan scan, const Bracket& bracket, SpeedLimit& limit) {
    scan.tolerance = 1e-6;
    Crossing at = crossing(scan, bracket, kDepthTolerance);
    for (scan.margin += 2;; scan.margin += 2) {
        const PeriodMap map(*scan.system, scan.speed, at.depth, scan.margin);
        const MapEigenpair motion = dominant_eigenpair(map, 1e-6);
        const double miss = std::log(std::abs(motion.value)) / at.slope;
        if (std::abs(miss) <= kSettled || scan.margin >= kMostMargin) {
            describe_limit(map, motion, limit);
            limit.limit = at.depth * std::exp(-std::clamp(miss, -kLargestMiss, kLargestMiss));
            return;
        }
        at = follow(scan, at, miss);
    }
}

}  // namespace

SpeedLimit periodic_limit(const DelaySystem& system, SpindleSpeed speed, double searched_to,
                          double islands_to) {
    require_positive(searched_to, "periodic_limit", "depth to search to");
    SpeedLimit limit{speed, {}, {}, {}, {}};
    DepthScan scan{&system, speed};
    const auto bracket = next_change(scan, stable_start(scan, searched_to), searched_to);
    if (!bracket) return limit;
    settle(scan, *bracket, limit);
    limit.islands = stable_islands(
        scan, bracket->high, std::min(searched_to, islands_to * *limit.limit), kDepthTolerance);
    return limit;
}

StabilityLimits periodic_limits(const DelaySystem& system, const std::vector<SpindleSpeed>& speeds,
                                double searched_to, double islands_to) {
    StabilityLimits limits{StabilityMethod::periodic, searched_to, {}, {}};
    limits.speeds.resize(speeds.size());
    for_each_index(speeds.size(), [&](std::size_t k) {
        limits.speeds[k] = periodic_limit(system, speeds[k], searched_to, islands_to);
    });
    return limits;
}

}  // namespace standfast
