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
/// promises the most is known. What a band's zero-order limits miss is learned where it is asked
/// first, at its most hopeful speed; a limit that is not known yet is given the largest ratio seen
/// on its band and a tenth more.
struct CellSketch {
    /// None: zero-order is the method, or stands in for periodic; then so are all limits here.
    std::shared_ptr<const BandSearch> search;
    /// m, over the case's speeds; those not asked for by the ratio seen on their band
    std::vector<std::optional<double>> limits;
    std::vector<double> usable;  ///< m, likewise; 0: none, or not offered
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
