#include "fea/chatter/banded_limits.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>
#include <utility>

#include "fea/chatter/band_search.hpp"
#include "fea/chatter/limit_search.hpp"
#include "fea/chatter/stand_in_tally.hpp"
#include "fea/quantities/for_each_index.hpp"

namespace standfast {
namespace {

constexpr int kFewestAnchors = 4, kMostAnchors = 16;

using Found = BandSearch::OnWhole;

// As `how` says; islands only on the whole.
Found limit_at(const BandSearch& search, std::size_t index, SolvedOn how, double islands_to) {
    if (how == SolvedOn::whole) return search.on_whole(index, islands_to);
    return {search.on_bands(index), {}};
}

// What each speed is solved on.
std::vector<SolvedOn> plan(const BandSearch& search, const BandedOptions& options) {
    const int teeth = search.whole().cutter.teeth();
    std::vector<SolvedOn> how(search.speeds().size(), SolvedOn::whole);
    for (std::size_t i = 0; i < how.size(); ++i) {
        const SpindleSpeed speed = search.speeds()[i];
        if (!options.matters || options.matters(speed)) continue;
        const auto& hertz = search.averaged(i).chatter_hertz;
        const double passing = speed.radians_per_second / (2 * std::numbers::pi) * teeth;
        const bool narrow = hertz && *hertz > options.most_lobes * passing;
        how[i] = narrow ? SolvedOn::ratio : SolvedOn::bands;
    }
    return how;
}

StandIn bands_against_whole(const std::vector<Found>& found, const std::vector<SolvedOn>& how) {
    StandInTally differences;
    for (std::size_t i = 0; i < found.size(); ++i) {
        if (how[i] == SolvedOn::whole && found[i].on_bands && found[i].limit.limit) {
            differences.add(*found[i].on_bands / *found[i].limit.limit);
        }
    }
    return differences.of(SolvedOn::bands, std::count(how.begin(), how.end(), SolvedOn::bands));
}

// A speed of the slow end that is solved on bands, and how far its averaged limit was off.
struct Anchor {
    double log_speed = 0, log_ratio = 0;
};

// The band that most of the anchors chatter in; its averaged limits are those that stand in.
std::size_t commonest_band(const BandSearch& search, const std::vector<Found>& found,
                           const std::vector<std::size_t>& anchors) {
    std::vector<int> votes(search.bands().size(), 0);
    for (const std::size_t i : anchors) {
        if (!found[i].limit.chatter_hertz) continue;
        const auto far = [&](const ModeBand& band) {
            return std::abs(std::log(*found[i].limit.chatter_hertz / band.centre.hertz()));
        };
        const auto nearest =
            std::min_element(search.bands().begin(), search.bands().end(),
                             [&](const auto& a, const auto& b) { return far(a) < far(b); });
        ++votes[static_cast<std::size_t>(nearest - search.bands().begin())];
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
    for (std::size_t n = 0; n < count; ++n) {
        chosen.push_back(slow[n * (slow.size() - 1) / (count - 1)]);
    }
    return chosen;
}

// The slow end: a few speeds on bands, the others by the averaged limit and the ratio in between.
StandIn fill_slow_end(const BandSearch& search, const std::vector<std::size_t>& slow,
                      std::vector<Found>& found) {
    const std::vector<std::size_t> chosen = spread_over(slow);
    for_each_index(chosen.size(), [&](std::size_t n) {
        found[chosen[n]] = limit_at(search, chosen[n], SolvedOn::bands, 1);
    });
    const std::vector<SpeedLimit>& averaged =
        search.averaged_of_band(commonest_band(search, found, chosen)).speeds;
    std::vector<Anchor> anchors;
    for (const std::size_t i : chosen) {
        if (averaged[i].limit && found[i].limit.limit) {
            anchors.push_back({std::log(search.speeds()[i].radians_per_second),
                               std::log(*found[i].limit.limit / *averaged[i].limit)});
        }
    }
    std::sort(anchors.begin(), anchors.end(),
              [](const Anchor& a, const Anchor& b) { return a.log_speed < b.log_speed; });
    StandInTally differences;
    for (std::size_t n = 1; n + 1 < anchors.size(); ++n) {
        differences.add(
            std::exp(interpolated(anchors[n - 1], anchors[n + 1], anchors[n].log_speed) -
                     anchors[n].log_ratio));
    }
    int filled = 0;
    for (const std::size_t i : slow) {
        if (std::find(chosen.begin(), chosen.end(), i) != chosen.end()) continue;
        if (anchors.empty() || !averaged[i].limit) {
            found[i] = limit_at(search, i, SolvedOn::bands, 1);
            continue;
        }
        const double here = std::log(search.speeds()[i].radians_per_second);
        auto above = std::find_if(anchors.begin(), anchors.end(),
                                  [&](const Anchor& anchor) { return anchor.log_speed >= here; });
        if (above == anchors.end()) --above;
        const auto below = above == anchors.begin() ? above : above - 1;
        found[i].limit = averaged[i];
        found[i].limit.solved_on = SolvedOn::ratio;
        const double depth = *averaged[i].limit * std::exp(interpolated(*below, *above, here));
        found[i].limit.limit = depth <= search.searched_to() ? std::optional(depth) : std::nullopt;
        ++filled;
    }
    return differences.of(SolvedOn::ratio, filled);
}

StabilityLimits limits_of(const BandSearch& search, const BandedOptions& options) {
    const std::vector<SpindleSpeed>& speeds = search.speeds();
    const std::vector<SolvedOn> how = plan(search, options);
    std::vector<Found> found(speeds.size());
    std::vector<std::size_t> slow, others;
    for (std::size_t i = 0; i < speeds.size(); ++i) {
        (how[i] == SolvedOn::ratio ? slow : others).push_back(i);
    }
    for_each_index(others.size(), [&](std::size_t n) {
        const std::size_t i = others[n];
        found[i] = limit_at(search, i, how[i], options.islands_to);
    });
    StabilityLimits limits{StabilityMethod::periodic, search.searched_to(), {}, {}};
    const StandIn bands = bands_against_whole(found, how);
    if (bands.speeds > 0) limits.stand_ins.push_back(bands);
    if (!slow.empty()) limits.stand_ins.push_back(fill_slow_end(search, slow, found));
    for (Found& one : found) limits.speeds.push_back(std::move(one.limit));
    return limits;
}

}  // namespace

StabilityLimits banded_limits(const DelaySystem& system, const std::vector<SpindleSpeed>& speeds,
                              double searched_to, const BandedOptions& options) {
    if (!system.cutter.evenly_spaced() ||
        static_cast<int>(system.receptance.terms.size()) <= kModesOfBand) {
        return periodic_limits(system, speeds, searched_to, options.islands_to);
    }
    return limits_of(BandSearch(system, speeds, searched_to), options);
}

}  // namespace standfast
