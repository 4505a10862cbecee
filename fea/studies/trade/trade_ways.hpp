#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "fea/studies/trade/trade_ranking.hpp"

namespace standfast {

/// A way out besides the riser's height: the best option that takes it, against the best that does
/// not.
struct TradeWay {
    TradeVariation variation;            ///< as the best option with it has it
    std::size_t with = 0;                ///< index into the results
    std::optional<std::size_t> without;  ///< none: nothing without it can be used
    bool better = false;                 ///< it ranks before the best without
};

/// One for each thing that was varied (hold, material, a tool's holder, a pass's tilt) and that can
/// be used at all, in the order of appearance. Both options are free to differ in everything else.
std::vector<TradeWay> trade_ways(const std::vector<TradeResult>& results,
                                 const TradeRanking& ranking);

}  // namespace standfast
