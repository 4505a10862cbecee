#pragma once

#include <optional>
#include <vector>

#include "fea/judgement/answer/report.hpp"
#include "fea/judgement/speed/at_speed.hpp"
#include "fea/judgement/speed/speed_search.hpp"
#include "fea/studies/trade/trade_sketch.hpp"
#include "fea/studies/trade/trade_tries.hpp"

namespace standfast {

/// What a search found of a cell.
struct SearchedCell {
    std::vector<HeldSpeed> found;  ///< the best first; empty: nothing that is wanted
    double removal = 0;            ///< m^3/s, of the best

    const HeldSpeed* best() const { return found.empty() ? nullptr : &found.front(); }
};

/// The best speed and depth of a cell by the tries of the search; without tries by the nominal
/// stack and the settings' method, at the most hopeful speeds and between them.
/// @param drawn  null: nothing is tried
/// @param least  m^3/s; less is not wanted
SearchedCell search_cell(const TradePassCase& of, const TradedTool& tool, const CellSketch& sketch,
                         const JobDraws* drawn, const TradeSettings& settings, double least);

/// A cell judged as `check` judges a pass.
struct CellAnswer {
    Headings headings;
    SpindleSpeed speed;
    double depth = 0;                    ///< m, judged: as programmed
    SpeedLimit limit;                    ///< at that speed
    PassAnswer answer;                   ///< there
    std::optional<Recommendation> best;  ///< as check recommends with the axial depth left out
    PassAnswer at_best;                  ///< there, where there is one
    std::optional<double> sings_hertz;   ///< of the edge of chatter there
    double removal = 0;                  ///< m^3/s
    std::optional<FinishStock> finish;   ///< of a pass with a tolerance, tried; at the best
};

/// @param drawn  other tries than those of the search; null: nothing is tried
CellAnswer tell_cell(const TradePassCase& of, const TradedTool& tool, const CellSketch& sketch,
                     const SearchedCell& searched, const JobDraws* drawn,
                     const TradeSettings& settings);

/// The least limit of a cell by the settings' method over half a least band either side of a speed,
/// at a heading.
SpeedLimit least_about(const TradePassCase& of, const TradedTool& tool, const Headings& headings,
                       SpindleSpeed speed, const TradeSettings& settings);

}  // namespace standfast
