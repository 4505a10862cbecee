#pragma once

#include <optional>
#include <vector>

#include "fea/judgement/answer/report.hpp"
#include "fea/judgement/answer/speed_window.hpp"
#include "fea/judgement/speed/at_speed.hpp"

namespace standfast {

/// Levels over the speeds, quiet bands and stay-off ranges of one pass at one depth. They tell of
/// what depends on the spindle speed; holding, tool stress and weight, which do not, are in the
/// pass's verdict.
struct SpeedMap {
    std::vector<SpeedLevel> speeds;
    std::vector<SpeedBand> quiet_bands, stay_off;
};

/// @param at  by ascending speed
SpeedMap speed_map(const std::vector<AtSpeed>& at, const SpeedWindow& offered,
                   const Limits& limits);

/// Runs of offered speeds with nothing flagged, from the first to the last of each, at least
/// limits.least_band wide relative to their middle; with the smallest limit within.
std::vector<SpeedBand> quiet_bands(const std::vector<SpeedLevel>& levels,
                                   const std::vector<AtSpeed>& at, const Limits& limits);

/// Runs of speeds to avoid, out to halfway to their better neighbours; the reason is the one that
/// leads most often. Speeds that cannot be run at all make runs of their own.
std::vector<SpeedBand> stay_off_ranges(const std::vector<SpeedLevel>& levels);

}  // namespace standfast
