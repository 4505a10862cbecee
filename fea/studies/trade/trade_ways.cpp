#include "fea/studies/trade/trade_ways.hpp"

#include <algorithm>

namespace standfast {
namespace {

bool can_be_used(const TradeResult& result) {
    return result.failed.empty() &&
           std::none_of(result.passes.begin(), result.passes.end(),
                        [](const TradePass& pass) { return pass.clear == false; });
}

/// What an option makes of the thing that a variation is about; null: it leaves it as it is.
const TradeVariation* same_thing(const TradeResult& result, const TradeVariation& as) {
    for (const TradeVariation& one : result.variations) {
        if (one.what == as.what && one.of == as.of) return &one;
    }
    return nullptr;
}

/// The first in rank that can be used and varies the thing, or does not.
std::optional<std::size_t> first_of(const std::vector<TradeResult>& results,
                                    const TradeRanking& ranking, const TradeVariation& thing,
                                    bool varied) {
    for (const std::size_t i : ranking.order) {
        const bool varies = same_thing(results[i], thing) != nullptr;
        if (varies == varied && can_be_used(results[i])) return i;
    }
    return std::nullopt;
}

std::vector<TradeVariation> things_varied(const std::vector<TradeResult>& results) {
    std::vector<TradeVariation> things;
    for (const TradeResult& result : results) {
        for (const TradeVariation& one : result.variations) {
            const bool known = std::any_of(things.begin(), things.end(), [&](const auto& thing) {
                return thing.what == one.what && thing.of == one.of;
            });
            if (!known) things.push_back(one);
        }
    }
    return things;
}

}  // namespace

std::vector<TradeWay> trade_ways(const std::vector<TradeResult>& results,
                                 const TradeRanking& ranking) {
    std::vector<TradeWay> ways;
    const auto place = [&](std::size_t option) {
        return std::find(ranking.order.begin(), ranking.order.end(), option);
    };
    for (const TradeVariation& thing : things_varied(results)) {
        const auto with = first_of(results, ranking, thing, true);
        if (!with) continue;
        const auto without = first_of(results, ranking, thing, false);
        ways.push_back({.variation = *same_thing(results[*with], thing),
                        .with = *with,
                        .without = without,
                        .better = !without || place(*with) < place(*without)});
    }
    return ways;
}

}  // namespace standfast
