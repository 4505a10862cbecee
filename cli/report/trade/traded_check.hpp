#pragma once

#include <string>

#include "cli/report/trade/traded_job.hpp"

namespace standfast {

/// What came from the lines of a shard is looked at before screen, JSON and CSV rely on it:
/// enumerations that exist, no removal below 0, a pass wherever an option did not fail and the
/// worst ones among them, the passes, tools and numbers of cells and speeds of the first option, no
/// more limits than speeds.
/// @param place  of the line, for the message
/// @throws UsageError saying at which place what is wrong
void require_sound(const TradedHead& head, const std::string& place);
void require_sound(const TradeResult& result, const TradeResult& first, const std::string& place);

}  // namespace standfast
