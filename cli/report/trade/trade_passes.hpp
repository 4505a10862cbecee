#pragma once

#include <string>

#include "cli/report/check/screen.hpp"
#include "cli/report/trade/traded_job.hpp"

namespace standfast {

/// An option as it would be run: a line for every tool (stickout, what holds it), under it one for
/// each of its passes (speed, feed, depth, wall, level there), and what they remove together. Long
/// names are shortened, so that no column moves.
std::string trade_passes(const TradeResult& result, const ScreenOptions& options);

/// What the passes together remove, how they were weighed, and the time that takes where they say
/// how long they cut.
std::string sum_text(const TradeResult& result, UnitSystem units);

}  // namespace standfast
