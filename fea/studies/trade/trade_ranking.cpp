#include "fea/studies/trade/trade_ranking.hpp"

#include <algorithm>
#include <cmath>

namespace standfast {
namespace {

constexpr double kEqual = 0.99;
constexpr double kNear = 0.90;

/// 0: nothing to avoid; 1: something to avoid; 2: not to be had at all.
int grade(const TradeResult& result) {
    if (!result.failed.empty()) return 3;
    const bool unreachable = std::any_of(result.passes.begin(), result.passes.end(),
                                         [](const TradePass& pass) { return pass.clear == false; });
    if (unreachable) return 2;
    return result.best_verdict.level == Level::avoid ? 1 : 0;
}

/// Of the options left, the one that comes next.
std::size_t next_of(const std::vector<TradeResult>& results, const std::vector<std::size_t>& left) {
    int least = 3;
    for (const std::size_t i : left) least = std::min(least, grade(results[i]));
    double most = 0;
    for (const std::size_t i : left) {
        if (grade(results[i]) == least) most = std::max(most, results[i].removal);
    }
    std::size_t best = left.size();
    for (std::size_t k = 0; k < left.size(); ++k) {
        const TradeResult& one = results[left[k]];
        if (grade(one) != least || one.removal < kEqual * most) continue;
        if (best == left.size() || one.mass < results[left[best]].mass) best = k;
    }
    return best;
}

}  // namespace

TradeRanking rank_trade(const std::vector<TradeResult>& results) {
    TradeRanking ranking;
    std::vector<std::size_t> left;
    for (std::size_t i = 0; i < results.size(); ++i) left.push_back(i);
    while (!left.empty()) {
        const std::size_t next = next_of(results, left);
        ranking.order.push_back(left[next]);
        left.erase(left.begin() + static_cast<std::ptrdiff_t>(next));
    }
    if (ranking.order.empty() || grade(results[ranking.order.front()]) > 1) return ranking;
    ranking.best = ranking.order.front();
    const TradeResult& best = results[*ranking.best];
    for (const std::size_t i : ranking.order) {
        const TradeResult& one = results[i];
        if (i == *ranking.best || grade(one) != grade(best) || best.removal <= 0) continue;
        const double ratio = one.removal / best.removal;
        if (ratio >= kNear) ranking.ties.push_back({i, ratio, one.mass - best.mass});
    }
    return ranking;
}

}  // namespace standfast
