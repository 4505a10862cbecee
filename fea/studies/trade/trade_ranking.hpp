#pragma once

#include <optional>
#include <string>
#include <vector>

#include "fea/studies/trade/trade.hpp"

namespace standfast {

/// An option that is nearly as good as the best, and what taking it costs.
struct TradeTie {
    std::size_t option = 0;      ///< index into the results
    double removal_ratio = 1;    ///< its removal over the best's
    double mass_difference = 0;  ///< kg, its mass less the best's
};

struct TradeRanking {
    std::vector<std::size_t> order;   ///< indices, the best first; failed ones last
    std::optional<std::size_t> best;  ///< none where nothing could be computed, or nothing clears
    std::vector<TradeTie> ties;
};

/// Ranks options: those that nothing speaks against first, by the level at their best speeds and
/// usable depths, then by metal removal, then by weight. Removals within 1 % count as equal, so
/// that the lighter wins; options of the same level within 10 % of the best are its near-ties.
TradeRanking rank_trade(const std::vector<TradeResult>& results);

}  // namespace standfast
