#include "cli/report/check/screen.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <sstream>

#include "cli/report/check/indicator_proof.hpp"
#include "cli/report/check/side_by_side.hpp"
#include "cli/report/check/verdict_text.hpp"
#include "cli/report/common/cautions.hpp"
#include "tests/cli/sample_report.hpp"
#include "tests/support/golden.hpp"

namespace standfast {
namespace {

using tests::expect_golden;
using tests::sample_job;
using tests::sample_report;
using tests::unheld_pass;

std::string screen(const JobReport& report, const ScreenOptions& options = {}) {
    return screen_text(sample_job(), report, options);
}

bool has(const std::string& text, const std::string& part) {
    return text.find(part) != std::string::npos;
}

std::string lower(std::string text) {
    std::transform(text.begin(), text.end(), text.begin(),
                   [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    return text;
}

TEST(Screen, OfOnePassInMillimetres) { expect_golden("one-pass.txt", screen(sample_report())); }

TEST(Screen, OfOnePassInInchesOnAHundredColumns) {
    expect_golden("one-pass-inch.txt", screen(sample_report(), {.units = UnitSystem::inch,
                                                                .page = {.width = 100},
                                                                .list_assumed = true}));
}

TEST(Screen, OfThreePassesListsTheWorstFirst) {
    JobReport report = sample_report();
    report.passes.insert(report.passes.begin(), unheld_pass());
    report.passes.front().name = "chamfer";
    report.passes.push_back(unheld_pass());
    report.passes.back().name = "slot";
    report.passes.back().verdict = {.level = Level::marginal, .reasons = {Reason::holding}};
    expect_golden("three-passes.txt", screen(report));
    EXPECT_EQ(worst_first(report), (std::vector<std::size_t>{1, 2, 0}));
}

TEST(Screen, IsOneScreen) {
    for (const int width : {80, 100}) {
        const std::string text = screen(sample_report(), {.page = {.width = width}});
        EXPECT_LE(std::count(text.begin(), text.end(), '\n'), 40) << width << " columns\n" << text;
    }
}

TEST(Screen, VerdictStandsBeforeEverythingAndCautionsAtTheEnd) {
    const std::string text = screen(sample_report());
    EXPECT_LT(text.find("AVOID"), text.find("Why"));
    EXPECT_LT(text.find("Why"), text.find("Helps most"));
    EXPECT_LT(text.find("Not judged"), text.find("Cautions"));
    EXPECT_GT(text.find("Cautions"), text.find("Assumed"));
}

TEST(Screen, APassWhoseHoldWasNotJudgedIsNeverCalledNothingFlagged) {
    JobReport report = sample_report();
    report.passes = {unheld_pass()};
    for (const int width : {40, 80, 100}) {
        const std::string text = lower(screen(report, {.page = {.width = width}}));
        EXPECT_FALSE(has(text, "nothing flagged")) << text;
        EXPECT_TRUE(has(text, "hold not judged")) << text;
    }
    EXPECT_FALSE(has(lower(quiet_text(report, {})), "nothing flagged"));
    EXPECT_FALSE(has(lower(verdict_text(sample_job(), report.passes[0], UnitSystem::metric)),
                     "nothing flagged"));
}

TEST(Screen, EveryFormCarriesCautions) {
    const std::string text = screen(sample_report(), {.list_assumed = true});
    for (const char* const word : {"Holding", "Breakage", "Overspeed", "qualified person"}) {
        EXPECT_TRUE(has(text, word)) << word;
    }
    EXPECT_TRUE(has(screen(sample_report(), {.page = {.width = 100}}), "qualified"));
    EXPECT_TRUE(has(quiet_text(sample_report(), {.page = {.width = 300}}), "qualified"));
}

TEST(Cautions, AreAboutWhatTheVerdictIsAboutAndAlwaysSayWhoDecides) {
    const auto about = [](Level level, std::vector<Reason> reasons) {
        return caution_about({.level = level, .reasons = std::move(reasons)});
    };
    EXPECT_TRUE(has(about(Level::avoid, {Reason::chatter}), "shatter"));
    EXPECT_TRUE(has(about(Level::avoid, {Reason::tool_stress, Reason::holding}), "dovetail"));
    EXPECT_TRUE(has(about(Level::avoid, {Reason::overspeed, Reason::chatter}), "bursts"));
    EXPECT_TRUE(has(about(Level::unflagged, {}), "light cut"));
    for (const Level level : {Level::unflagged, Level::marginal, Level::avoid}) {
        EXPECT_TRUE(has(about(level, {Reason::chatter}), "not permission"));
        EXPECT_TRUE(has(about(level, {Reason::chatter}), "a qualified person come first"));
    }
}

TEST(SideBySide, TellsOnlyWhatDiffersAndWhatItDoes) {
    Job shorter = sample_job();
    shorter.tools[0].cutter.stickout = 45e-3;
    JobReport better = sample_report();
    better.title = "shorter tool";
    better.passes[0].verdict = {.level = Level::unflagged, .reasons = {}};
    const Job job = sample_job();
    const JobReport report = sample_report();
    const SideBySide both =
        side_by_side({{&job, &report}, {&shorter, &better}}, UnitSystem::metric);
    ASSERT_EQ(both.differences.size(), 1U);
    EXPECT_EQ(both.differences[0].what, "long finisher: out of the holder");
    EXPECT_NE(both.differences[0].values[0], both.differences[0].values[1]);
    ASSERT_EQ(both.passes.size(), report.passes.size());
    EXPECT_EQ(both.passes[0].rows.front().values,
              (std::vector<std::string>{"avoid", "nothing flagged"}));
    for (const int width : {80, 100, 120}) {
        std::istringstream stream(
            side_by_side_text({{&job, &report}, {&shorter, &better}}, UnitSystem::metric, width));
        std::string line;
        while (std::getline(stream, line)) {
            EXPECT_LE(static_cast<int>(columns(line)), width) << line;
        }
    }
}

TEST(Screen, LongNamesAndNarrowTerminalsKeepEveryLineWithinThePage) {
    JobReport report = sample_report();
    report.title = std::string(200, 't');
    report.passes[0].name = "pass " + std::string(200, 'n');
    report.passes[0].tool = std::string(200, 'w');
    report.passes[0].statics.give[0].member = std::string(120, 'm');
    report.passes.push_back(report.passes[0]);
    for (const int width : {40, 50, 61, 80, 100}) {
        std::istringstream stream(screen(report, {.page = {.width = width}}));
        std::string line;
        while (std::getline(stream, line)) {
            EXPECT_LE(static_cast<int>(columns(line)), width) << line;
        }
    }
}

TEST(Screen, AnEscapeSequenceInANameIsShownAndNotObeyed) {
    JobReport report = sample_report();
    report.title = report.passes[0].name = report.passes[0].tool = "x\x1b[2J";
    report.passes[0].holding.joint = report.passes[0].holding.joints[0].joint = "\x1b]0;j";
    report.assumed[0].path = "\x1b[31m";
    EXPECT_FALSE(has(screen(report, {.list_assumed = true}), "\x1b"));
}

TEST(Verdict, WithoutASpeedSaysWhichSpeedWasChosen) {
    Job job = sample_job();
    job.passes[0].speed.reset();
    const std::string text = verdict_text(job, unheld_pass(), UnitSystem::metric);
    EXPECT_TRUE(has(text, "You asked for the speed: 9000 rpm")) << text;
}

TEST(Verdict, NamesTheOtherReasonsToo) {
    PassReport pass = tests::sample_pass();
    pass.verdict.reasons = {Reason::chatter, Reason::holding, Reason::weight};
    const std::string text = verdict_text(sample_job(), pass, UnitSystem::metric);
    EXPECT_TRUE(has(text, "Also: holding, weight.")) << text;
}

TEST(IndicatorProof, PushesNoHarderThanTheCutAndReadsOnADial) {
    const auto proof = indicator_proof(6e-8, 152, UnitSystem::metric);
    ASSERT_TRUE(proof);
    EXPECT_DOUBLE_EQ(proof->force, 100);
    EXPECT_DOUBLE_EQ(proof->reading, 6e-6);
    EXPECT_DOUBLE_EQ(indicator_proof(3e-7, 152, UnitSystem::metric)->force, 50);
}

TEST(IndicatorProof, IsNotOfferedWhereNothingWouldBeSeen) {
    EXPECT_FALSE(indicator_proof(1e-9, 200, UnitSystem::metric));
    EXPECT_FALSE(indicator_proof(0, 200, UnitSystem::inch));
}

}  // namespace
}  // namespace standfast
