#pragma once

#include <optional>
#include <vector>

#include "fea/studies/trade_sketch.hpp"

namespace standfast {

/// What is known of one pass over the stickouts of its tool, before anything is worked out.
struct PassSketches {
    std::size_t pass = 0;
    double section = 0;  ///< m^2, radial times axial depth
    std::vector<CellSketch> cells;
    std::vector<std::optional<bool>> clear;  ///< per stickout
};

/// Time, s, that a metre of the pass's own section takes at that removal; HUGE_VAL for none.
double pass_time(double section, double removal);

/// Stickouts that may be chosen for a tool: those at which all its passes clear; where reach is not
/// judged, those no shorter than the job's own. Indices, ascending.
std::vector<std::size_t> allowed_stickouts(const std::vector<PassSketches>& passes,
                                           const std::vector<double>& stickouts, double own);

/// The stickouts worth working out: the shortest allowed one, and those whose sketch comes within
/// `margin` of the best sketch (worst level first, then time), at most `most`. Ascending.
std::vector<std::size_t> short_list(const std::vector<TradePassCase>& cases,
                                    const std::vector<PassSketches>& passes,
                                    const std::vector<std::size_t>& allowed, double margin,
                                    std::size_t most);

/// A stickout worked out for all passes of a tool.
struct WorkedStickout {
    std::size_t index = 0;  ///< into the tool's stickouts
    Level level = Level::unflagged;
    double time = 0;  ///< s, sum of pass_time
};

/// The one to take: nothing to avoid first, then the least time, and of those within 3 % of it the
/// shortest.
std::size_t best_stickout(const std::vector<WorkedStickout>& worked);

}  // namespace standfast
