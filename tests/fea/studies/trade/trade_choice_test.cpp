#include "fea/studies/trade/trade_choice.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace standfast {
namespace {

TEST(TradeChoice, AmongThoseWithinOnePercentTheShortestIsTaken) {
    const auto taken = [](double shorter) {
        return best_stickout({{.index = 2, .time = shorter}, {.index = 5, .time = 10}});
    };
    EXPECT_EQ(taken(10.05), 0U);
    EXPECT_EQ(taken(10.2), 1U);
    EXPECT_EQ(best_stickout({{.index = 2, .time = HUGE_VAL}, {.index = 5, .time = HUGE_VAL}}), 0U)
        << "where none can be used";
}

TEST(TradeChoice, TheSketchesAreHeldAgainstWhatWasFoundOnTheWhole) {
    const std::vector<TimedStickout> sketched = {{.index = 0, .time = 12}, {.index = 1, .time = 9}};
    const std::vector<TimedStickout> searched = {{.index = 0, .time = 24},
                                                 {.index = 1, .time = 4.5}};
    // Twice and half: on the whole right.
    EXPECT_NEAR(as_it_turned_out(sketched, searched)[0].time, 12, 1e-12);
    EXPECT_NEAR(as_it_turned_out(sketched, {searched[0]})[1].time, 18, 1e-12);
    // A stickout that was given up says nothing of its sketch.
    EXPECT_EQ(as_it_turned_out(sketched, {{.index = 0, .time = HUGE_VAL}})[1].time, 9);
}

TEST(TradeChoice, ASketchIsTooSlowByHowMuchTheAnswerTookLess) {
    const std::vector<TimedStickout> sketched = {{.index = 0, .time = 12}, {.index = 1, .time = 9}};
    EXPECT_NEAR(too_slow_at_worst(sketched, {{.index = 0, .time = 10}}), 0.2, 1e-12);
    EXPECT_EQ(too_slow_at_worst(sketched, {{.index = 1, .time = 10}}), 0);
}

TEST(TradeChoice, ALeftOutSketchMustBeOffByWhatItIsSlower) {
    EXPECT_NEAR(would_have_to_be_off({.index = 1, .time = 13}, 10), 0.3, 1e-12);
    EXPECT_EQ(would_have_to_be_off({.index = 1, .time = 8}, 10), 0);
    EXPECT_EQ(would_have_to_be_off({.index = 1, .time = HUGE_VAL}, 10), HUGE_VAL);
    EXPECT_EQ(would_have_to_be_off({.index = 1, .time = 13}, HUGE_VAL), 0);
}

TEST(TradeChoice, StickoutsThatDoNotClearInEveryPassMayNotBeTaken) {
    std::vector<PassSketches> passes(2);
    passes[0].clear = {false, true, true};
    passes[1].clear = {false, false, true};
    EXPECT_EQ(allowed_stickouts(passes, {0.03, 0.04, 0.05}, 0.04), (std::vector<std::size_t>{2}));
    // Where reach is not judged, the job's own is known to do.
    passes[0].clear = passes[1].clear = {std::nullopt, std::nullopt, std::nullopt};
    EXPECT_EQ(allowed_stickouts(passes, {0.03, 0.04, 0.05}, 0.04),
              (std::vector<std::size_t>{1, 2}));
}

}  // namespace
}  // namespace standfast
