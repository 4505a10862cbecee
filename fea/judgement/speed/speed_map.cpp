#include "fea/judgement/speed/speed_map.hpp"

#include <algorithm>
#include <map>

namespace standfast {
namespace {

std::optional<double> smaller(const std::optional<double>& a, const std::optional<double>& b) {
    if (!a || !b) return a ? a : b;
    return std::min(*a, *b);
}

double middle_of(SpindleSpeed a, SpindleSpeed b) {
    return (a.radians_per_second + b.radians_per_second) / 2;
}

bool quiet(const SpeedLevel& level) { return level.offered && level.level == Level::unflagged; }

enum class StayOff { no, cannot_run, avoid };

StayOff stay_off_kind(const SpeedLevel& level) {
    if (level.level != Level::avoid) return StayOff::no;
    return level.reasons.front() == Reason::overspeed ? StayOff::cannot_run : StayOff::avoid;
}

Reason commonest_lead(const std::vector<SpeedLevel>& levels, std::size_t from, std::size_t to) {
    std::map<Reason, int> count;
    for (std::size_t i = from; i <= to; ++i) ++count[levels[i].reasons.front()];
    return std::max_element(count.begin(), count.end(),
                            [](const auto& a, const auto& b) { return a.second < b.second; })
        ->first;
}

SpeedBand stay_off_band(const std::vector<SpeedLevel>& levels, std::size_t from, std::size_t to) {
    SpeedBand band{.from = levels[from].speed,
                   .to = levels[to].speed,
                   .limit = std::nullopt,
                   .reason = commonest_lead(levels, from, to)};
    if (from > 0) band.from = {middle_of(levels[from - 1].speed, levels[from].speed)};
    if (to + 1 < levels.size()) band.to = {middle_of(levels[to].speed, levels[to + 1].speed)};
    return band;
}

}  // namespace

std::vector<SpeedBand> quiet_bands(const std::vector<SpeedLevel>& levels,
                                   const std::vector<AtSpeed>& at, const Limits& limits) {
    std::vector<SpeedBand> bands;
    for (std::size_t i = 0; i < levels.size(); ++i) {
        if (!quiet(levels[i])) continue;
        SpeedBand band{.from = levels[i].speed,
                       .to = levels[i].speed,
                       .limit = at[i].limit.limit,
                       .reason = Reason::chatter};
        while (i + 1 < levels.size() && quiet(levels[i + 1])) {
            ++i;
            band.to = levels[i].speed;
            band.limit = smaller(band.limit, at[i].limit.limit);
        }
        const double width = band.to.radians_per_second - band.from.radians_per_second;
        if (width >= limits.least_band * middle_of(band.from, band.to)) bands.push_back(band);
    }
    return bands;
}

std::vector<SpeedBand> stay_off_ranges(const std::vector<SpeedLevel>& levels) {
    std::vector<SpeedBand> ranges;
    for (std::size_t i = 0; i < levels.size(); ++i) {
        const StayOff kind = stay_off_kind(levels[i]);
        if (kind == StayOff::no) continue;
        const std::size_t from = i;
        while (i + 1 < levels.size() && stay_off_kind(levels[i + 1]) == kind) ++i;
        ranges.push_back(stay_off_band(levels, from, i));
    }
    return ranges;
}

SpeedMap speed_map(const std::vector<AtSpeed>& at, const SpeedWindow& offered,
                   const Limits& limits) {
    SpeedMap map;
    for (const AtSpeed& one : at) {
        map.speeds.push_back({.speed = one.limit.speed,
                              .level = one.verdict.level,
                              .reasons = one.verdict.reasons,
                              .offered = offered.contains(one.limit.speed)});
    }
    map.quiet_bands = quiet_bands(map.speeds, at, limits);
    map.stay_off = stay_off_ranges(map.speeds);
    return map;
}

}  // namespace standfast
