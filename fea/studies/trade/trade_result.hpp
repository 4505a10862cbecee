#pragma once

#include <vector>

#include "fea/studies/trade/trade_case.hpp"

namespace standfast {

/// What an option came to, from its finished case: passes, verdict, removal, what limits it and
/// what was not judged.
void fill_result(TradeResult& result, const TradeOptionCase& option, const TradeGrid& grid,
                 const std::vector<TradedTools>& tools);

/// Tools whose chosen stickout is longer than the shortest allowed one and removes more by the same
/// tries, since the edge of chatter at its best speed is higher.
std::vector<TunedStickout> tuned_stickouts(const TradeOptionCase& option, const TradeGrid& grid,
                                           const std::vector<TradedTools>& tools,
                                           const TradeSettings& settings);

}  // namespace standfast
