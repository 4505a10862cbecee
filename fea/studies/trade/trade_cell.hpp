#pragma once

#include <optional>
#include <vector>

#include "fea/judgement/answer/report.hpp"
#include "fea/judgement/speed/at_speed.hpp"
#include "fea/studies/trade/trade_sketch.hpp"

namespace standfast {

/// A cell judged as `check` judges a pass.
struct CellAnswer {
    Headings headings;
    SpindleSpeed speed;
    double depth = 0;  ///< m, judged
    SpeedLimit limit;  ///< at that speed
    std::optional<Recommendation> best;
    double removal = 0;  ///< m^3/s
    PassAnswer answer;
    /// Shares of draws that chatter: at `speed` and `depth`; at the best speed and its depth.
    std::optional<double> probability, best_probability;
    std::optional<double> cautious, cautious_probability;  ///< see TradePass
};

/// Its limits are those of the settings' method: at the judged speed, and at the best
/// speeds of the sketch until one holds.
CellAnswer work_out_cell(const TradePassCase& of, const TradedTool& tool, const CellSketch& sketch,
                         const TradeSettings& settings);

/// The least limit of a cell by the settings' method over half a least band either side of a speed,
/// at a heading.
SpeedLimit least_about(const TradePassCase& of, const TradedTool& tool, const Headings& headings,
                       SpindleSpeed speed, const TradeSettings& settings);

}  // namespace standfast
