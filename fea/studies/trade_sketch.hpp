#pragma once

#include <memory>
#include <optional>
#include <vector>

#include "fea/chatter/band_search.hpp"
#include "fea/judgement/cut_problem.hpp"
#include "fea/studies/trade_pass_case.hpp"

namespace standfast {

/// A cell as far as it is known without working it out.
///
/// Its limits start as zero-order ones on a coarse receptance, and its depths as what they, the
/// flutes and the slow push-off allow. Then the speed that promises to remove the most is looked
/// at: its limit on mode bands (band_search.hpp), the motion of its cut; until the one that
/// promises the most is known. Zero-order limits may be too low as well as too high, so that what
/// is not known yet is given a tenth more than they say.
struct CellSketch {
    /// None: zero-order is the method, or stands in for periodic; then so are all limits here.
    std::shared_ptr<const BandSearch> search;
    std::vector<std::optional<double>> limits;  ///< m, over the case's speeds
    std::vector<double> usable;                 ///< m, likewise; 0: none, or not offered
    double worth = 0;   ///< m rad/s, speed times usable depth, the largest among those known
    SpindleSpeed told;  ///< programmed, else the best: the speed of `limit`
    std::optional<double> limit;     ///< m, by the method, on mode bands; see stand_ins of the pass
    Level level = Level::unflagged;  ///< of chatter and push-off as programmed
    /// With TradeSettings::every_speed: by the method at all speeds, as CellSketch::limits.
    std::vector<StandIn> stand_ins;
    bool every_speed = false;
};

/// @param rank  whether the cell may be chosen; else there are only limits, no depths
CellSketch sketch_cell(const TradePassCase& of, const TradedTool& tool, bool rank,
                       const TradeSettings& settings);

}  // namespace standfast
