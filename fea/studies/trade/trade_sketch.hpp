#pragma once

#include <memory>
#include <optional>
#include <vector>

#include "fea/chatter/limits/edge_limits.hpp"
#include "fea/judgement/cut/cut_problem.hpp"
#include "fea/studies/trade/trade_pass_case.hpp"

namespace standfast {

/// A cell as far as it is known without working it out.
///
/// Its limits start as zero-order ones on a coarse receptance, in the middle of a cut of the usual
/// depth, and its depths as what they, the flutes and the slow push-off allow. Then the speed that
/// promises to remove the most is looked at: its limit by the method, the motion of its cut; until
/// the one that promises the most is known. A limit that is not known yet is given the largest
/// ratio to its zero-order one that was seen in the cell, and a tenth more.
struct CellSketch {
    /// Limits of the cell by the method; none: zero-order is, or stands in for periodic.
    std::shared_ptr<const EdgeLimits> search;
    double searched_to = 0;  ///< m
    /// m, over the case's speeds; those not asked for by the ratio seen
    std::vector<std::optional<double>> limits;
    std::vector<double> usable;  ///< m, likewise; 0: none, or not offered
    double worth = 0;   ///< m rad/s, speed times usable depth, the largest among those known
    SpindleSpeed told;  ///< programmed, else the best: the speed of `limit`
    std::optional<double> limit;     ///< m, by the method
    Level level = Level::unflagged;  ///< of chatter and push-off as programmed
    bool every_speed = false;        ///< limits by the method at all speeds
};

/// @param rank  whether the cell may be chosen; else there are only limits, no depths
CellSketch sketch_cell(const TradePassCase& of, const TradedTool& tool, bool rank,
                       const TradeSettings& settings);

}  // namespace standfast
