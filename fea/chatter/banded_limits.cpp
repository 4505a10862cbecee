#include "fea/chatter/banded_limits.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <numeric>
#include <optional>
#include <utility>

#include "fea/chatter/depth_crossing.hpp"
#include "fea/chatter/depth_scan.hpp"
#include "fea/chatter/krylov.hpp"
#include "fea/chatter/limit_search.hpp"
#include "fea/chatter/mode_bands.hpp"
#include "fea/quantities/for_each_index.hpp"

namespace standfast {
namespace {

constexpr int kModesEach = 8;
constexpr double kStart = 0.4;           // of the averaged limit
constexpr double kRival = 2.0;           // bands whose averaged limit is further off are left out
constexpr double kBeyond = 1.02;         // bands may miss a limit just beyond the searched depth
constexpr double kBandTolerance = 1e-3;  // of the depth, on the bands
constexpr double kSettled = 1e-3;        // miss that one Newton step makes good
constexpr double kLargestMiss = 0.25;    // beyond it the bands are no guide
constexpr int kMostSteps = 4;
constexpr double kFineTolerance = 1e-5;  // residual of the multiplier that is followed
constexpr int kFewestAnchors = 4, kMostAnchors = 16;

void describe(const PeriodMap& map, const MapEigenpair& motion, SpeedLimit& limit) {
    const bool doubling = std::abs(std::arg(motion.value)) > std::numbers::pi - 1e-6;
    limit.kind = doubling ? ChatterKind::period_doubling : ChatterKind::quasi_periodic;
    limit.chatter_hertz = map.strongest_line(motion.value, motion.vector);
}

/// One job's worth of limits: the system, its bands and their averaged limits.
struct Search {
    const DelaySystem& whole;
    const std::vector<SpindleSpeed>& speeds;
    double searched_to;
    const BandedOptions& options;
    std::vector<ModeBand> bands;
    std::vector<StabilityLimits> averaged;  // by band

    double end() const { return searched_to * kBeyond; }
};

// The least averaged limit at a speed; `limit` empty where there is none.
const SpeedLimit& least_averaged(const Search& search, std::size_t speed) {
    const auto depth = [&](const StabilityLimits& of_band) {
        return of_band.speeds[speed].limit.value_or(std::numeric_limits<double>::infinity());
    };
    return std::min_element(search.averaged.begin(), search.averaged.end(),
                            [&](const auto& a, const auto& b) { return depth(a) < depth(b); })
        ->speeds[speed];
}

// Bands whose averaged limit is near the least, that one first.
std::vector<const DelaySystem*> likely_bands(const Search& search, std::size_t speed,
                                             double averaged) {
    std::vector<std::pair<double, const DelaySystem*>> likely;
    for (std::size_t k = 0; k < search.bands.size(); ++k) {
        const auto& limit = search.averaged[k].speeds[speed].limit;
        if (limit && *limit < kRival * averaged)
            likely.emplace_back(*limit, &search.bands[k].system);
    }
    if (likely.empty()) likely.emplace_back(averaged, &search.bands.front().system);
    std::stable_sort(likely.begin(), likely.end(),
                     [](const auto& a, const auto& b) { return a.first < b.first; });
    std::vector<const DelaySystem*> systems;
    for (const auto& [limit, system] : likely) systems.push_back(system);
    return systems;
}

struct BandCrossing {
    DepthScan scan;  // of the one band
    Bracket bracket;
    Crossing at;
};

// The first band is walked; of the others only whether they are stable at its limit.
std::optional<BandCrossing> first_crossing(const std::vector<const DelaySystem*>& bands,
                                           SpindleSpeed speed, double start, double end) {
    std::optional<BandCrossing> first;
    for (const DelaySystem* band : bands) {
        DepthScan scan{{band}, speed};
        if (first && scan.at(first->at.depth).growth < 0) continue;
        const double before = first ? first->at.depth : end;
        const auto bracket = next_change(scan, stable_from(scan, std::min(start, before)), before);
        if (!bracket) continue;
        const Crossing at = crossing(scan, *bracket, kBandTolerance);
        first = {std::move(scan), *bracket, at};
    }
    return first;
}

// The crossing found on bands, followed to that of `system`; false: not settled.
bool follow(const DelaySystem& system, const DepthScan& scan, Crossing at, double searched_to,
            SpeedLimit& limit) {
    double margin = scan.margin + 1, before = 0, change = 0;
    for (int step = 0; step < kMostSteps; ++step) {
        const PeriodMap map(system, scan.speed, at.depth, margin);
        const MapEigenpair motion = dominant_eigenpair(map, kFineTolerance);
        const double growth = std::log(std::max(std::abs(motion.value), 1e-12));
        if (std::abs(change) > kSettled) {
            const double slope = (growth - before) / change;
            if (slope * at.slope > 0) at.slope = slope;
        }
        const double miss = growth / at.slope;
        if (!(std::abs(miss) < kLargestMiss)) return false;
        if (std::abs(miss) <= kSettled) {
            describe(map, motion, limit);
            const double depth = at.depth * std::exp(-miss);
            if (depth <= searched_to) limit.limit = depth;
            return true;
        }
        margin = scan.margin + 3;
        before = growth;
        change = -miss;
        at.depth *= std::exp(change);
    }
    return false;
}

// Depths at which the band of the limit is stable again, and all others too.
std::vector<std::pair<double, double>> islands_of(const std::vector<const DelaySystem*>& bands,
                                                  const DepthScan& scan, const ScanPoint& unstable,
                                                  double end) {
    auto islands = stable_islands(scan, unstable, end, kBandTolerance);
    std::erase_if(islands, [&](const std::pair<double, double>& island) {
        const double middle = std::sqrt(island.first * island.second);
        return std::any_of(bands.begin(), bands.end(), [&](const DelaySystem* band) {
            return DepthScan{{band}, scan.speed, scan.margin}.at(middle).growth > 0;
        });
    });
    return islands;
}

struct Found {
    SpeedLimit limit;
    std::optional<double> on_bands;  // m, before it was put right on the whole
};

Found limit_at(const Search& search, std::size_t index, SolvedOn how, bool islands) {
    const SpindleSpeed speed = search.speeds[index];
    Found found{{speed, {}, {}, {}, {}, how}, {}};
    const double averaged = least_averaged(search, index).limit.value_or(search.end());
    const std::vector<const DelaySystem*> bands = likely_bands(search, index, averaged);
    const auto first = first_crossing(bands, speed, kStart * averaged, search.end());
    if (!first) return found;
    found.on_bands = first->at.depth;
    const DelaySystem& judge = how == SolvedOn::whole ? search.whole : *first->scan.systems.front();
    if (!follow(judge, first->scan, first->at, search.searched_to, found.limit)) {
        found.limit = periodic_limit(search.whole, speed, search.searched_to,
                                     islands ? search.options.islands_to : 1);
    } else if (islands && found.limit.limit) {
        const double to =
            std::min(search.searched_to, search.options.islands_to * *found.limit.limit);
        found.limit.islands = islands_of(bands, first->scan, first->bracket.high, to);
    }
    return found;
}

// What each speed is solved on.
std::vector<SolvedOn> plan(const Search& search) {
    const int teeth = search.whole.cutter.teeth();
    std::vector<SolvedOn> how(search.speeds.size(), SolvedOn::whole);
    for (std::size_t i = 0; i < how.size(); ++i) {
        const SpindleSpeed speed = search.speeds[i];
        if (!search.options.matters || search.options.matters(speed)) continue;
        const auto& hertz = least_averaged(search, i).chatter_hertz;
        const double passing = speed.radians_per_second / (2 * std::numbers::pi) * teeth;
        const bool narrow = hertz && *hertz > search.options.most_lobes * passing;
        how[i] = narrow ? SolvedOn::ratio : SolvedOn::bands;
    }
    return how;
}

struct Differences {
    int count = 0;
    double worst = 0, squares = 0;
    void add(double ratio) {
        const double off = std::abs(ratio - 1);
        ++count;
        worst = std::max(worst, off);
        squares += off * off;
    }
    StandIn stand_in(SolvedOn kind, std::ptrdiff_t speeds) const {
        return {kind, static_cast<int>(speeds), count, worst,
                count > 0 ? std::sqrt(squares / count) : 0};
    }
};

StandIn bands_against_whole(const std::vector<Found>& found, const std::vector<SolvedOn>& how) {
    Differences differences;
    for (std::size_t i = 0; i < found.size(); ++i)
        if (how[i] == SolvedOn::whole && found[i].on_bands && found[i].limit.limit)
            differences.add(*found[i].on_bands / *found[i].limit.limit);
    return differences.stand_in(SolvedOn::bands,
                                std::count(how.begin(), how.end(), SolvedOn::bands));
}

// A speed of the slow end that is solved on bands, and how far its averaged limit was off.
struct Anchor {
    double log_speed = 0, log_ratio = 0;
};

// The band that most of the anchors chatter in; its averaged limits are those that stand in.
std::size_t commonest_band(const Search& search, const std::vector<Found>& found,
                           const std::vector<std::size_t>& anchors) {
    std::vector<int> votes(search.bands.size(), 0);
    for (const std::size_t i : anchors) {
        if (!found[i].limit.chatter_hertz) continue;
        const auto far = [&](const ModeBand& band) {
            return std::abs(std::log(*found[i].limit.chatter_hertz / band.centre.hertz()));
        };
        const auto nearest =
            std::min_element(search.bands.begin(), search.bands.end(),
                             [&](const auto& a, const auto& b) { return far(a) < far(b); });
        ++votes[static_cast<std::size_t>(nearest - search.bands.begin())];
    }
    return static_cast<std::size_t>(std::max_element(votes.begin(), votes.end()) - votes.begin());
}

double interpolated(const Anchor& a, const Anchor& b, double log_speed) {
    const double span = b.log_speed - a.log_speed;
    const double share = span > 0 ? std::clamp((log_speed - a.log_speed) / span, 0.0, 1.0) : 0.0;
    return a.log_ratio + share * (b.log_ratio - a.log_ratio);
}

std::vector<std::size_t> spread_over(const std::vector<std::size_t>& slow) {
    const std::size_t count =
        std::clamp<std::size_t>(slow.size() / 12, kFewestAnchors, kMostAnchors);
    if (slow.size() <= count) return slow;
    std::vector<std::size_t> chosen;
    for (std::size_t n = 0; n < count; ++n)
        chosen.push_back(slow[n * (slow.size() - 1) / (count - 1)]);
    return chosen;
}

// The slow end: a few speeds on bands, the others by the averaged limit and the ratio in between.
StandIn fill_slow_end(const Search& search, const std::vector<std::size_t>& slow,
                      std::vector<Found>& found) {
    const std::vector<std::size_t> chosen = spread_over(slow);
    for_each_index(chosen.size(), [&](std::size_t n) {
        found[chosen[n]] = limit_at(search, chosen[n], SolvedOn::bands, false);
    });
    const std::vector<SpeedLimit>& averaged =
        search.averaged[commonest_band(search, found, chosen)].speeds;
    std::vector<Anchor> anchors;
    for (const std::size_t i : chosen) {
        if (averaged[i].limit && found[i].limit.limit)
            anchors.push_back({std::log(search.speeds[i].radians_per_second),
                               std::log(*found[i].limit.limit / *averaged[i].limit)});
    }
    std::sort(anchors.begin(), anchors.end(),
              [](const Anchor& a, const Anchor& b) { return a.log_speed < b.log_speed; });
    Differences differences;
    for (std::size_t n = 1; n + 1 < anchors.size(); ++n)
        differences.add(
            std::exp(interpolated(anchors[n - 1], anchors[n + 1], anchors[n].log_speed) -
                     anchors[n].log_ratio));
    int filled = 0;
    for (const std::size_t i : slow) {
        if (std::find(chosen.begin(), chosen.end(), i) != chosen.end()) continue;
        if (anchors.empty() || !averaged[i].limit) {
            found[i] = limit_at(search, i, SolvedOn::bands, false);
            continue;
        }
        const double here = std::log(search.speeds[i].radians_per_second);
        auto above = std::find_if(anchors.begin(), anchors.end(),
                                  [&](const Anchor& anchor) { return anchor.log_speed >= here; });
        if (above == anchors.end()) --above;
        const auto below = above == anchors.begin() ? above : above - 1;
        found[i].limit = averaged[i];
        found[i].limit.solved_on = SolvedOn::ratio;
        const double depth = *averaged[i].limit * std::exp(interpolated(*below, *above, here));
        found[i].limit.limit = depth <= search.searched_to ? std::optional(depth) : std::nullopt;
        ++filled;
    }
    return differences.stand_in(SolvedOn::ratio, filled);
}

}  // namespace

StabilityLimits banded_limits(const DelaySystem& system, const std::vector<SpindleSpeed>& speeds,
                              double searched_to, const BandedOptions& options) {
    if (!system.cutter.evenly_spaced() ||
        static_cast<int>(system.receptance.terms.size()) <= kModesEach) {
        return periodic_limits(system, speeds, searched_to, options.islands_to);
    }
    Search search{system, speeds, searched_to, options, mode_bands(system, kModesEach), {}};
    search.averaged = averaged_limits_of_bands(system, search.bands, speeds, search.end());
    const std::vector<SolvedOn> how = plan(search);
    std::vector<Found> found(speeds.size());
    std::vector<std::size_t> slow, others;
    for (std::size_t i = 0; i < speeds.size(); ++i)
        (how[i] == SolvedOn::ratio ? slow : others).push_back(i);
    for_each_index(others.size(), [&](std::size_t n) {
        const std::size_t i = others[n];
        found[i] = limit_at(search, i, how[i], how[i] == SolvedOn::whole);
    });
    StabilityLimits limits{StabilityMethod::periodic, searched_to, {}, {}};
    const StandIn bands = bands_against_whole(found, how);
    if (bands.speeds > 0) limits.stand_ins.push_back(bands);
    if (!slow.empty()) limits.stand_ins.push_back(fill_slow_end(search, slow, found));
    for (Found& one : found) limits.speeds.push_back(std::move(one.limit));
    return limits;
}

}  // namespace standfast
