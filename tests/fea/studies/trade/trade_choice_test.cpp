#include "fea/studies/trade/trade_choice.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace standfast {
namespace {

TEST(TradeChoice, AmongThoseWithinThreePercentTheShortestIsTaken) {
    const std::vector<WorkedStickout> worked = {{.index = 2, .time = 10.2},
                                                {.index = 5, .time = 10}};
    EXPECT_EQ(best_stickout(worked), 0U);
    EXPECT_EQ(best_stickout({{.index = 2, .time = 11}, {.index = 5, .time = 10}}), 1U);
}

TEST(TradeChoice, NothingToAvoidComesBeforeTime) {
    const std::vector<WorkedStickout> worked = {{.index = 0, .level = Level::avoid, .time = 5},
                                                {.index = 1, .time = 9}};
    EXPECT_EQ(best_stickout(worked), 1U);
}

TEST(TradeChoice, ASketchIsTooSlowByHowMuchTheAnswerTookLess) {
    const std::vector<SketchedStickout> sketched = {{.index = 0, .time = 12},
                                                    {.index = 1, .time = 9}};
    EXPECT_NEAR(too_slow_at_worst(sketched, {{.index = 0, .time = 10}}), 0.2, 1e-12);
    EXPECT_EQ(too_slow_at_worst(sketched, {{.index = 1, .time = 10}}), 0);
}

TEST(TradeChoice, ALeftOutSketchMustBeOffByWhatItIsSlower) {
    const WorkedStickout best{.index = 0, .time = 10};
    EXPECT_NEAR(would_have_to_be_off({.index = 1, .time = 13}, best), 0.3, 1e-12);
    EXPECT_EQ(would_have_to_be_off({.index = 1, .time = 8}, best), 0);
    EXPECT_EQ(would_have_to_be_off({.index = 1, .avoid = true, .time = 8}, best), HUGE_VAL);
    EXPECT_EQ(would_have_to_be_off({.index = 1, .time = HUGE_VAL}, best), HUGE_VAL);
    const WorkedStickout bad{.index = 0, .level = Level::avoid, .time = 10};
    EXPECT_EQ(would_have_to_be_off({.index = 1, .time = 13}, bad), 0);
}

}  // namespace
}  // namespace standfast
