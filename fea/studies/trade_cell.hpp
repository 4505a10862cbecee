#pragma once

#include <optional>
#include <vector>

#include "fea/judgement/at_speed.hpp"
#include "fea/judgement/report.hpp"
#include "fea/studies/trade_sketch.hpp"

namespace standfast {

/// A limit that was had both on mode bands and on all modes.
struct ComparedLimit {
    double on_bands = 0, on_whole = 0;  ///< m
};

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
    std::vector<ComparedLimit> compared;
};

/// Its limits are those of the settings' method on all modes: at the judged speed, and at the best
/// speeds of the sketch until one holds.
CellAnswer work_out_cell(const TradePassCase& of, const TradedTool& tool, const CellSketch& sketch,
                         const TradeSettings& settings);

/// The least limit of a cell by the settings' method, on all modes, over half a least band either
/// side of a speed, at a heading.
SpeedLimit least_about(const TradePassCase& of, const TradedTool& tool, const CellSketch& sketch,
                       const Headings& headings, SpindleSpeed speed, const TradeSettings& settings);

}  // namespace standfast
