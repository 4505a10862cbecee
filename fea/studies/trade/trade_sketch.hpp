#pragma once

#include <optional>
#include <vector>

#include "fea/judgement/speed/speed_search.hpp"
#include "fea/studies/trade/trade_pass_case.hpp"

namespace standfast {

/// A cell as far as it is known without trying it.
///
/// What is hoped of a speed is the averaged limit of the nominal stack, on a coarse receptance, in
/// the middle of a cut of the usual depth, and not more than flutes and the slow push-off allow.
/// Where the tries differ in frequency, so do their pockets: of the limits at speeds as far off as
/// the frequencies of the tries are, the one that a fifth of them fall short of counts.
struct CellSketch {
    /// m, over the case's speeds: averaged; with every_speed by the method
    std::vector<std::optional<double>> limits;
    std::vector<HopedSpeed> hopes;  ///< of the offered speeds, ascending
    double worth = 0;               ///< m rad/s, the largest that is hoped for
    SpindleSpeed told;              ///< programmed, else the most hopeful: the speed of `limit`
    std::optional<double> limit;    ///< m, by the method
    bool every_speed = false;       ///< limits by the method at all speeds
};

/// @param rank  whether the cell may be chosen; else there is only the limit that is told
CellSketch sketch_cell(const TradePassCase& of, const TradedTool& tool, bool rank,
                       const TradeSettings& settings);

}  // namespace standfast
