#include "fea/chatter/limits/edge_limits.hpp"

#include <Eigen/Core>
#include <algorithm>
#include <cmath>
#include <optional>

#include "fea/chatter/equation/slight_modes.hpp"
#include "fea/chatter/equation/square_corner.hpp"
#include "fea/chatter/limits/depth_crossing.hpp"
#include "fea/chatter/limits/depth_scan.hpp"
#include "fea/chatter/limits/describe_limit.hpp"
#include "fea/chatter/limits/limit_search.hpp"
#include "fea/chatter/limits/lobe_segments.hpp"
#include "fea/chatter/limits/zero_order.hpp"
#include "fea/chatter/map/krylov.hpp"
#include "fea/quantities/for_each_index.hpp"
#include "fea/quantities/require.hpp"

namespace standfast {
namespace {

constexpr double kSlight = 2e-5, kSlightInTheMiddle = 1e-2;
constexpr double kLeastGain = 0.1, kLeastGainInTheMiddle = 0.3;
constexpr double kAside = 1.2;     // of the crossing in the middle, where that of the edge may lie
constexpr double kRoughly = 5e-3;  // of the depth, the crossing in the middle
constexpr double kSettled = 4e-4;  // of the depth; one more secant step makes it good
constexpr double kLongestStep = 0.12;  // ln depth
constexpr int kMostSteps = 9;
constexpr double kMargin = 3, kMostMargin = 11;

constexpr double kFirst = 0.5;    // of the least averaged limit of any speed, where the walk begins
constexpr double kCoarser = 2.5;  // sampling for it

// The least averaged limit of any speed, m, by the receptance in the middle of a cut as deep as
// that limit; at most `searched_to`.
double least_averaged_limit(const DelaySystem& system, double searched_to) {
    double depth = searched_to / 4;
    for (int step = 0; step < 3; ++step) {
        const ModalReceptance middle = receptance_in_the_middle(system, depth);
        double fastest = 1;
        for (const ModalTerm& term : middle.terms) {
            fastest = std::max(fastest, term.frequency.radians_per_second);
        }
        const SampledReceptance sampled = sampled_in_the_middle(
            system, frequency_grid(middle.terms, {1.2 * fastest}, kCoarser), depth);
        const Eigen::MatrixXd mean = averaged_cut(system, depth).mean_matrix;
        double largest = 0;
        for (const Eigen::MatrixXcd& value : sampled.value) {
            for (const auto& lambda : loop_eigenvalues(mean, value)) {
                largest = std::max(largest, lambda.real());
            }
        }
        depth = largest > 0 ? std::min(searched_to, 0.5 / largest) : searched_to;
    }
    return depth;
}

// A depth on the edge of stability of one map after the other.
struct Secant {
    double log_depth = 0, slope = 0;
    std::optional<double> before_log, before_growth;

    // The next depth, from the growth here; none where the slope is lost.
    std::optional<double> next(double growth) {
        if (before_log && std::abs(log_depth - *before_log) > 1e-6) {
            const double found = (growth - *before_growth) / (log_depth - *before_log);
            if (found > 0.2 * slope && found < 5 * slope) slope = found;
        }
        if (!(slope > 0)) return std::nullopt;
        before_log = log_depth;
        before_growth = growth;
        return log_depth + std::clamp(-growth / slope, -kLongestStep, kLongestStep);
    }
};

struct Motion {
    double growth = 0;
    MapEigenpair pair;
};

Motion motion_of(const PeriodMap& map, const Eigen::VectorXd& near) {
    const double tolerance = near.size() == map.size() ? 1e-5 : 2e-4;
    Motion motion;
    motion.pair =
        dominant_eigenpair(map, tolerance, near.size() == map.size() ? near : Eigen::VectorXd());
    motion.growth = std::log(std::max(std::abs(motion.pair.value), 1e-12));
    return motion;
}

// The crossing of the whole from that in the middle; false where it does not settle.
bool put_right(const DelaySystem& whole, SpindleSpeed speed, const Crossing& middle, double margin,
               SpeedLimit& limit) {
    Secant secant{.log_depth = std::log(middle.depth), .slope = middle.slope};
    Eigen::VectorXd near;
    for (int step = 0; step < kMostSteps; ++step) {
        const PeriodMap map(whole, speed, std::exp(secant.log_depth), margin);
        const Motion motion = motion_of(map, near);
        near = motion.pair.vector.real();
        const auto next = secant.next(motion.growth);
        if (!next) return false;
        const double miss = *next - secant.log_depth;
        if (std::abs(miss) <= kSettled && step > 0) {
            if (margin >= kMostMargin) return false;
            describe_limit(map, motion.pair, limit);
            limit.limit = std::exp(*next);
            return true;
        }
        secant.log_depth = *next;
    }
    return false;
}

}  // namespace

DelaySystem in_the_middle(const DelaySystem& system) {
    DelaySystem middle = system;
    if (!system.lines) return middle;
    CutLines lines = *system.lines;
    lines.heights = 1;
    lines.lever = 0;
    middle.lines = std::make_shared<const CutLines>(std::move(lines));
    return middle;
}

EdgeLimits::EdgeLimits(const DelaySystem& system, double searched_to)
    : whole_(without_slight_modes(system, kSlight)), searched_to_(searched_to) {
    require_positive(searched_to, "EdgeLimits", "searched depth");
    if (!whole_.lines) return;
    DelaySystem middle = in_the_middle(system);
    middle.cutter = with_small_corner_square(middle.cutter, depth_for_corner(middle.cutter));
    start_ = kFirst *
             least_averaged_limit(without_slight_modes(middle, kSlightInTheMiddle), searched_to);
    edge_.emplace(system, kSlight, kLeastGain, start_, searched_to);
    middle_.emplace(middle, kSlightInTheMiddle, kLeastGainInTheMiddle, start_, searched_to);
}

SpeedLimit EdgeLimits::walked(SpindleSpeed speed, double islands_to) const {
    return periodic_limit(whole_, speed, searched_to_, islands_to);
}

// The walk along the edge itself, with the modes that matter at each depth.
SpeedLimit EdgeLimits::along_the_edge(SpindleSpeed speed) const {
    DepthScan scan{&edge_->deepest(), speed};
    scan.by_depth = &*edge_;
    const auto bracket = next_change(scan, stable_from(scan, start_), searched_to_);
    SpeedLimit limit;
    limit.speed = speed;
    if (!bracket) return limit;
    scan.tolerance = 1e-4;
    const Crossing found = crossing(scan, *bracket, kRoughly);
    const double margin = std::max(kMargin, scan.margin + 1);
    if (put_right(edge_->at(found.depth), speed, found, margin, limit)) return limit;
    // Where the growth is no smooth line there, the bracket is halved to the end.
    scan.tolerance = 1e-5;
    limit.limit = crossing(scan, *bracket, kSettled).depth;
    const PeriodMap map(edge_->at(*limit.limit), speed, *limit.limit, scan.margin);
    describe_limit(map, dominant_eigenpair(map, 1e-5), limit);
    return limit;
}

SpeedLimit EdgeLimits::limit(SpindleSpeed speed, double islands_to) const {
    if (!whole_.lines || !whole_.cutter.evenly_spaced()) return walked(speed, islands_to);
    if (islands_to > 1) return walked(speed, islands_to);
    DepthScan scan{&middle_->deepest(), speed};
    scan.by_depth = &*middle_;
    const auto bracket = next_change(scan, stable_from(scan, start_), searched_to_);
    SpeedLimit limit;
    limit.speed = speed;
    if (!bracket) {
        const PeriodMap map(edge_->deepest(), speed, searched_to_, scan.margin);
        return motion_of(map, {}).growth < 0 ? limit : along_the_edge(speed);
    }
    scan.tolerance = 1e-4;
    const Crossing middle = crossing(scan, *bracket, kRoughly);
    const double margin = std::max(kMargin, scan.margin + 1);
    if (!put_right(edge_->at(kAside * middle.depth), speed, middle, margin, limit)) {
        limit = along_the_edge(speed);
    }
    if (limit.limit && *limit.limit > searched_to_) {
        limit = SpeedLimit{};
        limit.speed = speed;
    }
    return limit;
}

StabilityLimits edge_limits(const DelaySystem& system, const std::vector<SpindleSpeed>& speeds,
                            double searched_to, double islands_to) {
    const EdgeLimits search(system, searched_to);
    StabilityLimits limits{StabilityMethod::periodic, searched_to, {}, {}};
    limits.speeds.resize(speeds.size());
    for_each_index(speeds.size(),
                   [&](std::size_t k) { limits.speeds[k] = search.limit(speeds[k], islands_to); });
    return limits;
}

}  // namespace standfast
