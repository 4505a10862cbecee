#include "fea/studies/trade/trade_ranking.hpp"

#include <gtest/gtest.h>

namespace standfast {
namespace {

TradeResult result(Level level, double removal, double mass,
                   std::optional<bool> clear = std::nullopt) {
    TradeResult one;
    one.best_verdict.level = level;
    one.removal = removal;
    one.mass = mass;
    TradePass pass;
    pass.clear = clear;
    one.passes = {pass};
    return one;
}

TEST(TradeRanking, WhatIsToBeAvoidedComesLastHoweverMuchItRemoves) {
    const TradeRanking ranking =
        rank_trade({result(Level::avoid, 9, 1), result(Level::marginal, 1, 5),
                    result(Level::unflagged, 2, 9)});
    EXPECT_EQ(ranking.order, (std::vector<std::size_t>{2, 1, 0}));
    EXPECT_EQ(ranking.best, 2U);
}

TEST(TradeRanking, OfEqualRemovalTheLighterWins) {
    const TradeRanking ranking =
        rank_trade({result(Level::unflagged, 2.00, 9), result(Level::unflagged, 1.99, 5),
                    result(Level::unflagged, 1.50, 1)});
    EXPECT_EQ(ranking.best, 1U);
    ASSERT_EQ(ranking.ties.size(), 1U);
    EXPECT_EQ(ranking.ties[0].option, 0U);
    EXPECT_NEAR(ranking.ties[0].removal_ratio, 2.00 / 1.99, 1e-12);
    EXPECT_NEAR(ranking.ties[0].mass_difference, 4, 1e-12);
}

TEST(TradeRanking, AnOptionIsRankedByItsOwnBestCutAndNotByTheProgrammedOne) {
    TradeResult chatters_as_set = result(Level::unflagged, 3, 1);
    chatters_as_set.verdict.level = Level::avoid;
    EXPECT_EQ(rank_trade({result(Level::unflagged, 2, 1), chatters_as_set}).best, 1U);
}

TEST(TradeRanking, WhatCannotReachIsNeverTheBest) {
    const TradeRanking ranking =
        rank_trade({result(Level::avoid, 9, 1, false), result(Level::avoid, 1, 1, true)});
    EXPECT_EQ(ranking.best, 1U);
    EXPECT_FALSE(rank_trade({result(Level::avoid, 9, 1, false)}).best);
}

TEST(TradeRanking, WhatCouldNotBeComputedComesLast) {
    TradeResult failed;
    failed.failed = "a size is not physical";
    const TradeRanking ranking = rank_trade({failed, result(Level::avoid, 0, 1, false)});
    EXPECT_EQ(ranking.order, (std::vector<std::size_t>{1, 0}));
    EXPECT_FALSE(ranking.best);
    EXPECT_FALSE(rank_trade({}).best);
}

}  // namespace
}  // namespace standfast
