#pragma once

#include <string>
#include <vector>

#include "fea/studies/trade/trade.hpp"
#include "fea/studies/trade/trade_ranking.hpp"

namespace standfast {

/// A tool and the stickouts that were tried with it.
struct TradedStickouts {
    std::string tool;
    std::vector<double> stickout;  ///< m
    double own = 0;                ///< m, the job's
};

/// What a trade says of the job as a whole.
struct TradedHead {
    std::string path, title;
    std::string riser;  ///< the tier whose place is traded
    std::vector<TradedStickouts> stickouts;
    std::vector<Assumption> assumed;
    std::vector<std::string> not_judged;
    StabilityMethod method = StabilityMethod::periodic;
    bool every_speed = false;
    int speeds = 0, draws = 0;
    std::uint64_t seed = 1;
    std::size_t options = 0;
    UnitSystem units = UnitSystem::metric;  ///< in which it was asked for
};

/// The trade of one job: all that the screen, JSON and CSV are made from.
struct TradedJob {
    TradedHead head;
    std::vector<TradeResult> results;
    TradeRanking ranking;
};

/// As compact JSON and back, without loss: what a shard's lines carry.
std::string head_record(const TradedHead& head);
std::string result_record(const TradeResult& result);
/// @throws std::runtime_error where the text is not such a record, or one that cannot be
TradedHead read_head_record(const std::string& text);
TradeResult read_result_record(const std::string& text);

/// @throws std::runtime_error where two options cannot be of one trade: other passes, stickouts or
///         speeds
void require_same_shape(const TradeResult& first, const TradeResult& other);

}  // namespace standfast
