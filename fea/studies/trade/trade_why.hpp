#pragma once

#include "fea/studies/trade/trade_case.hpp"

namespace standfast {

/// What gives and what sings in a pass at the stickout chosen. The mode that sings is the one that
/// by itself gives most at the frequency of the edge of chatter.
TradeWhy why_of(const TradeOptionCase& option, std::size_t pass, const TradedTool& tool);

}  // namespace standfast
