#pragma once

#include <string>

#include "cli/report/check/screen.hpp"
#include "cli/report/trade/traded_job.hpp"

namespace standfast {

/// Whether every pass of the option had its hold judged.
bool holding_judged(const TradeResult& result);

/// Hatching of the option's level; "--" where it could not be computed.
std::string trade_hatch(const TradeResult& result);

/// Options by height, one a line: stickout, usable depth and wall of the pass with least in hand,
/// metal, weight, and what holds the option back. Of many, the best ranked and the job's own.
std::string trade_table(const TradedJob& traded, const ScreenOptions& options);

}  // namespace standfast
