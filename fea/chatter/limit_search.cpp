#include "fea/chatter/limit_search.hpp"

#include <Eigen/Core>
#include <algorithm>
#include <cmath>
#include <numbers>

#include "fea/chatter/floquet.hpp"
#include "fea/quantities/for_each_index.hpp"
#include "fea/quantities/require.hpp"

namespace standfast {
namespace {

constexpr double kScanMargin = 3;   // multiplier within 1e-3 or so
constexpr double kLimitMargin = 5;  // first try at the crossing
constexpr double kMostMargin = 11;
constexpr double kDepthTolerance = 1e-5;  // of the depth
constexpr double kSettled = 1e-4;         // change of the limit with the resolution

double growth_of(const Multiplier& multiplier) {
    return std::log(std::max(multiplier.radius(), 1e-12));
}

struct Search {
    const DelaySystem& system;
    SpindleSpeed speed;
    double margin;

    Multiplier multiplier(double depth) const {
        return largest_multiplier(PeriodMap(system, speed, depth, margin));
    }
    double growth(double depth) const { return growth_of(multiplier(depth)); }
};

// Largest receptance to be expected: at its peaks.
double peak_compliance(const ModalReceptance& receptance) {
    double peak = static_compliance(receptance).norm();
    for (const ModalTerm& term : receptance.terms) {
        peak = std::max(peak, receptance_at(receptance, term.frequency).norm());
    }
    return peak;
}

// A fraction of the depth at which the mean loop gain could first reach one.
double safe_depth(const DelaySystem& system) {
    const double gain = 2 * mean_directional_matrix(system, 0.1 * system.cutter.diameter).norm() *
                        peak_compliance(system.receptance);
    return gain > 0 ? 0.3 / gain : 1e-3;
}

// Finer steps as the multiplier nears the unit circle, and near -1, where a pair that meets on the
// real axis parts at once.
double next_depth(double depth, const Multiplier& multiplier) {
    const double from_circle = std::clamp(0.12 * std::abs(growth_of(multiplier)), 0.02, 0.08);
    const double from_axis = std::numbers::pi - std::abs(std::arg(multiplier.value));
    return depth * (1 + std::clamp(0.1 * from_axis, 0.01, from_circle));
}

// Crossing of growth = 0 between two depths of opposite sign: regula falsi in ln depth with the
// stale end's value halved (Illinois).
double crossing(const Search& search, double low, double low_growth, double high,
                double high_growth) {
    double a = std::log(low), fa = low_growth, b = std::log(high), fb = high_growth;
    for (int step = 0; step < 60 && std::abs(b - a) > kDepthTolerance; ++step) {
        const double c = (a * fb - b * fa) / (fb - fa);
        const double fc = search.growth(std::exp(c));
        if (std::abs(fc) < 1e-9) return std::exp(c);
        if ((fc < 0) == (fb < 0)) {
            fa *= 0.5;
        } else {
            a = b;
            fa = fb;
        }
        const double moved = std::abs(c - b);
        b = c;
        fb = fc;
        if (moved < 0.1 * kDepthTolerance) break;
    }
    return std::exp(b);
}

struct Bracket {
    double low, low_growth, high, high_growth;
    Multiplier after;  // at high
};

// Scans upward from a depth of known multiplier to the first change of sign.
std::optional<Bracket> next_change(const Search& search, double depth, Multiplier multiplier,
                                   double searched_to) {
    while (depth < searched_to) {
        const double growth = growth_of(multiplier);
        const double further = std::min(next_depth(depth, multiplier), searched_to);
        const Multiplier then = search.multiplier(further);
        if ((growth < 0) != (growth_of(then) < 0)) {
            return Bracket{depth, growth, further, growth_of(then), then};
        }
        depth = further;
        multiplier = then;
    }
    return std::nullopt;
}

// The crossing on finer and finer maps until it settles.
double settled_crossing(const Search& scan, const Bracket& bracket) {
    double depth =
        crossing(scan, bracket.low, bracket.low_growth, bracket.high, bracket.high_growth);
    for (double margin = kLimitMargin; margin <= kMostMargin; margin += 2) {
        const Search finer{scan.system, scan.speed, margin};
        double width = 3e-4;
        double low = depth, high = depth, low_growth = 0, high_growth = 0;
        const bool rising = bracket.high_growth > 0;
        do {
            low = depth * (1 - width);
            high = depth * (1 + width);
            low_growth = finer.growth(low);
            high_growth = finer.growth(high);
            width *= 4;
        } while (((low_growth < 0) != rising || (high_growth > 0) != rising) && width < 0.1);
        if ((low_growth < 0) == (high_growth < 0)) continue;
        const double refined = crossing(finer, low, low_growth, high, high_growth);
        const bool settled = std::abs(refined - depth) <= kSettled * depth;
        depth = refined;
        if (settled) break;
    }
    return depth;
}

void describe(const Search& search, SpeedLimit& limit) {
    const PeriodMap map(search.system, search.speed, *limit.limit, kLimitMargin);
    const CriticalMotion motion = critical_motion(map);
    const bool doubling = std::abs(std::arg(motion.multiplier.value)) > std::numbers::pi - 1e-6;
    limit.kind = doubling ? ChatterKind::period_doubling : ChatterKind::quasi_periodic;
    limit.chatter_hertz = map.strongest_line(motion.multiplier.value, motion.state);
}

void find_islands(const Search& search, double end, Bracket bracket, SpeedLimit& limit) {
    while (const auto next = next_change(search, bracket.high, bracket.after, end)) {
        const double edge =
            crossing(search, next->low, next->low_growth, next->high, next->high_growth);
        if (next->high_growth < 0) {
            limit.islands.emplace_back(edge, end);
        } else {
            limit.islands.back().second = edge;
        }
        bracket = *next;
    }
}

}  // namespace

SpeedLimit periodic_limit(const DelaySystem& system, SpindleSpeed speed, double searched_to,
                          double islands_to) {
    require_positive(searched_to, "periodic_limit", "depth to search to");
    const Search scan{system, speed, kScanMargin};
    SpeedLimit limit{speed, {}, {}, {}, {}};
    double depth = std::min(safe_depth(system), searched_to);
    Multiplier multiplier = scan.multiplier(depth);
    for (int halving = 0; growth_of(multiplier) >= 0 && halving < 60; ++halving) {
        depth *= 0.5;
        multiplier = scan.multiplier(depth);
    }
    const std::optional<Bracket> bracket = next_change(scan, depth, multiplier, searched_to);
    if (!bracket) return limit;
    limit.limit = settled_crossing(scan, *bracket);
    describe(scan, limit);
    find_islands(scan, std::min(searched_to, islands_to * *limit.limit), *bracket, limit);
    return limit;
}

StabilityLimits periodic_limits(const DelaySystem& system, const std::vector<SpindleSpeed>& speeds,
                                double searched_to, double islands_to) {
    StabilityLimits limits{StabilityMethod::periodic, searched_to, {}};
    limits.speeds.resize(speeds.size());
    for_each_index(speeds.size(), [&](std::size_t k) {
        limits.speeds[k] = periodic_limit(system, speeds[k], searched_to, islands_to);
    });
    return limits;
}

}  // namespace standfast
