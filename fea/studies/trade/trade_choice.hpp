#pragma once

#include <optional>
#include <vector>

#include "fea/studies/trade/trade_sketch.hpp"

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

/// What the sketches promise of a stickout, for all passes of its tool.
struct SketchedStickout {
    std::size_t index = 0;  ///< into the tool's stickouts
    bool avoid = false;
    double time = 0;  ///< s, sum of pass_time
};
/// Of the allowed stickouts; the most promising first: nothing to avoid, then the least time.
std::vector<SketchedStickout> by_promise(const std::vector<TradePassCase>& cases,
                                         const std::vector<PassSketches>& passes,
                                         const std::vector<std::size_t>& allowed);

/// A stickout worked out for all passes of a tool.
struct WorkedStickout {
    std::size_t index = 0;  ///< into the tool's stickouts
    Level level = Level::unflagged;
    double time = 0;  ///< s, sum of pass_time
};

/// How much too slow the sketches were at worst, relative; 0 where none was.
/// @param sketched  of the same stickouts or more, any order
double too_slow_at_worst(const std::vector<SketchedStickout>& sketched,
                         const std::vector<WorkedStickout>& worked);

/// How much too slow the sketch of a stickout would have to be, relative, for it to beat the best
/// of those worked out; HUGE_VAL where it cannot.
double would_have_to_be_off(const SketchedStickout& sketched, const WorkedStickout& best);

/// The one to take: nothing to avoid first, then the least time, and of those within 3 % of it the
/// shortest.
std::size_t best_stickout(const std::vector<WorkedStickout>& worked);

}  // namespace standfast
