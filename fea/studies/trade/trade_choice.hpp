#pragma once

#include <optional>
#include <vector>

#include "fea/studies/trade/trade_sketch.hpp"

namespace standfast {

/// What is known of one pass over the stickouts of its tool, before anything is searched.
struct PassSketches {
    std::size_t pass = 0;
    double work = 0;  ///< m^3, or in proportion to it: what the pass has to remove
    std::vector<CellSketch> cells;
    std::vector<std::optional<bool>> clear;  ///< per stickout
};

/// Time, s, that removing `work` takes; HUGE_VAL for none.
double pass_time(double work, double removal);

/// Stickouts that may be chosen for a tool: those at which all its passes clear; where reach is not
/// judged, those no shorter than the job's own. Indices, ascending.
std::vector<std::size_t> allowed_stickouts(const std::vector<PassSketches>& passes,
                                           const std::vector<double>& stickouts, double own);

/// What a pass's cell is hoped to take, s.
double sketched_time(const TradePassCase& of, const PassSketches& pass, std::size_t stickout);

/// A stickout, and the time that all passes of its tool take there.
struct TimedStickout {
    std::size_t index = 0;  ///< into the tool's stickouts
    double time = 0;        ///< s, sum of pass_time
};
/// What the sketches promise of the allowed stickouts; the quickest first.
std::vector<TimedStickout> by_promise(const std::vector<TradePassCase>& cases,
                                      const std::vector<PassSketches>& passes,
                                      const std::vector<std::size_t>& allowed);

/// The sketched times as they turned out on the whole: by the geometric mean of searched over
/// sketched times of those that were searched.
/// @param sketched  of the same stickouts or more, any order
std::vector<TimedStickout> as_it_turned_out(std::vector<TimedStickout> sketched,
                                            const std::vector<TimedStickout>& searched);

/// How much too slow the sketches were at worst, relative; 0 where none was.
/// @param sketched  of the same stickouts or more, any order
double too_slow_at_worst(const std::vector<TimedStickout>& sketched,
                         const std::vector<TimedStickout>& searched);

/// How much too slow a sketch would have to be, relative, for it to beat a time; HUGE_VAL where it
/// cannot.
double would_have_to_be_off(const TimedStickout& sketched, double time);

/// The one to take, by its place in the list: the quickest, and of those within 1 % of it the
/// shortest.
/// @param searched  by ascending stickout
std::size_t best_stickout(const std::vector<TimedStickout>& searched);

}  // namespace standfast
