#include "fea/judgement/answer/levels.hpp"

#include <gtest/gtest.h>

namespace standfast {
namespace {

TEST(Levels, VerdictGetsNoBetterAsTheCutGetsDeeper) {
    const Limits limits;
    Level before = Level::unflagged;
    for (double depth = 0.1e-3; depth < 12e-3; depth += 0.1e-3) {
        const Level now = judge_chatter(depth, 8e-3, limits).level;
        EXPECT_GE(now, before);
        before = now;
    }
    EXPECT_EQ(before, Level::avoid);
}

TEST(Levels, AtTheEdgeOfChatterIsAvoid) {
    EXPECT_EQ(judge_chatter(8e-3, 8e-3, Limits{}).level, Level::avoid);
    EXPECT_EQ(judge_chatter(5e-3, std::nullopt, Limits{}).level, Level::unflagged);
}

TEST(Levels, OfACutThatAFreshEdgeWouldSpoilIsMarginalAtBest) {
    EXPECT_EQ(with_rubbing_unmeasured(Level::unflagged, Level::avoid), Level::marginal);
    EXPECT_EQ(with_rubbing_unmeasured(Level::avoid, Level::avoid), Level::avoid);
    for (const Level fresh : {Level::unflagged, Level::marginal}) {
        EXPECT_EQ(with_rubbing_unmeasured(Level::unflagged, fresh), Level::unflagged);
    }
}

TEST(Levels, ErrorIsJudgedByHalfTheTotalTolerance) {
    Pass pass;
    pass.tolerance = 0.02e-3;
    EXPECT_EQ(judge_error(-0.0101e-3, pass, Limits{}).level, Level::avoid);
    EXPECT_EQ(judge_error(0.008e-3, pass, Limits{}).level, Level::marginal);
    EXPECT_EQ(judge_error(0.006e-3, pass, Limits{}).level, Level::unflagged);
    EXPECT_EQ(judge_error(0.006e-3, pass, Limits{}).reason, Reason::surface_error);
}

TEST(Levels, ARoughingPassIsJudgedByWhatItLeaves) {
    Pass pass;
    pass.leave = 0.3e-3;
    EXPECT_EQ(judge_error(0.1e-3, pass, Limits{}).level, Level::unflagged);
    EXPECT_EQ(judge_error(0.3e-3, pass, Limits{}).level, Level::avoid);
}

TEST(Levels, WithoutAToleranceItIsDeflection) {
    const Finding found = judge_error(0.2e-3, Pass{}, Limits{});
    EXPECT_EQ(found.reason, Reason::deflection);
    EXPECT_EQ(found.level, Level::avoid);
}

TEST(Levels, ATighterToleranceIsNeverKinder) {
    Pass pass;
    Level before = Level::avoid;
    for (double tolerance = 1e-6; tolerance < 100e-6; tolerance += 1e-6) {
        pass.tolerance = tolerance;
        const Level now = judge_error(15e-6, pass, Limits{}).level;
        EXPECT_LE(now, before);
        before = now;
    }
}

TEST(Levels, AResonanceThatDoesNothingIsNoReason) {
    const Limits limits;
    EXPECT_EQ(judge_resonance(1e-6, 0.01e-6, limits).level,
              Level::unflagged);  // 100 times of nothing
    EXPECT_EQ(judge_resonance(50e-6, 40e-6, limits).level, Level::unflagged);  // large, not grown
    EXPECT_EQ(judge_resonance(50e-6, 12e-6, limits).level, Level::marginal);
    EXPECT_EQ(judge_resonance(50e-6, 5e-6, limits).level, Level::avoid);
}

TEST(Levels, HoldingThatIsNotJudgedIsNeverUnflagged) {
    HoldingResult holding;
    EXPECT_EQ(judge_holding_level(holding, Limits{}).level, Level::marginal);
    holding.judged = true;
    holding.joint = "part joint";
    holding.factor = 5;
    EXPECT_EQ(judge_holding_level(holding, Limits{}).level, Level::unflagged);
    holding.factor = 1.5;
    EXPECT_EQ(judge_holding_level(holding, Limits{}).level, Level::avoid);
    holding.judged = false;  // one joint judged and weak, another unknown
    EXPECT_EQ(judge_holding_level(holding, Limits{}).level, Level::avoid);
}

TEST(Levels, ACutThatFreesThePartIsAvoid) {
    HoldingResult holding;
    holding.joint = "part joint";
    holding.mode = HoldingMode::frees_part;
    EXPECT_EQ(judge_holding_level(holding, Limits{}).level, Level::avoid);
}

TEST(Levels, TheGravestReasonsStandFirst) {
    const Verdict verdict = verdict_of({{Level::marginal, Reason::holding},
                                        {Level::unflagged, Reason::whirl},
                                        {Level::avoid, Reason::chatter},
                                        {Level::avoid, Reason::surface_error},
                                        {Level::marginal, Reason::chatter}});
    EXPECT_EQ(verdict.level, Level::avoid);
    EXPECT_EQ(verdict.reasons,
              (std::vector{Reason::chatter, Reason::surface_error, Reason::holding}));
}

TEST(Levels, TooHeavyForThePalletChanger) {
    WeightResult weight{.mass = 36, .allowed = 35, .tilt_moment = 0, .tilt_moment_allowed = {}};
    EXPECT_EQ(judge_weight_level(weight, Limits{}).level, Level::avoid);
    weight.allowed = std::nullopt;
    EXPECT_EQ(judge_weight_level(weight, Limits{}).level, Level::unflagged);
    weight.tilt_moment = 90;
    weight.tilt_moment_allowed = 100;
    EXPECT_EQ(judge_weight_level(weight, Limits{}).level, Level::marginal);
}

}  // namespace
}  // namespace standfast
