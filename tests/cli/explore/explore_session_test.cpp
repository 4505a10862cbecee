#include "cli/explore/answers/explore_session.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "cli/report/check/verdict_text.hpp"
#include "tests/cli/explore/explored_job.hpp"

namespace standfast {
namespace {

using tests::ask;
using tests::explored_example;
using tests::setting_json;

TEST(ExploreSession, TellsWhatMayBeTurnedAndHowFar) {
    ExploreSession session(explored_example("01-shortest-job", 0));
    const nlohmann::json start = ask(session, {{"ask", "start"}});
    const nlohmann::json& pass = start.at("passes").at(0);
    EXPECT_NEAR(pass.at("riser").at("value_m").get<double>(), 6 * 0.0254, 1e-12);
    EXPECT_LT(pass.at("riser").at("least_m"), pass.at("riser").at("value_m"));
    EXPECT_GT(pass.at("riser").at("most_m"), pass.at("riser").at("value_m"));
    EXPECT_NEAR(pass.at("stickout").at("value_m").get<double>(), 2.25 * 0.0254, 1e-12);
    EXPECT_NEAR(pass.at("depth_m").get<double>(), 0.5 * 0.0254, 1e-12);
    EXPECT_NEAR(pass.at("speed_rpm").get<double>(), 9000, 1e-9);
}

/// What is told at rest is what check tells: the same edge, tries, level and words.
TEST(ExploreSession, JudgesAsCheckDoes) {
    for (const char* name : {"01-shortest-job", "07-thin-tall-wall"}) {
        const ExploreInput input = explored_example(name, 16);
        const ExploreSetting setting = input.start.front().setting;
        ExploreSession session(input);
        EXPECT_TRUE(
            ask(session, {{"ask", "judge"}, {"setting", setting_json(setting)}}).contains("begun"));
        const nlohmann::json edge = ask(session, {{"ask", "next"}});
        const nlohmann::json level = ask(session, {{"ask", "next"}});
        CheckOptions how;
        how.method = StabilityMethod::periodic;
        how.speeds = {setting.speed};
        how.only_pass = 0;
        how.odds.draws = 16;
        how.advise = false;
        const JobReport report = check_job(input.job, how);
        const PassReport& pass = report.passes.front();
        ASSERT_TRUE(pass.at_programmed.limit) << name;
        // At a few speeds check also looks for islands, on another walk; each is good to 5e-5.
        EXPECT_NEAR(edge.at("edge_m").get<double>() / *pass.at_programmed.limit, 1, 1e-4) << name;
        EXPECT_EQ(level.at("level"), pass.verdict.level == Level::avoid      ? "avoid"
                                     : pass.verdict.level == Level::marginal ? "marginal"
                                                                             : "unflagged")
            << name;
        EXPECT_DOUBLE_EQ(level.at("share").get<double>(), pass.odds->at_judged) << name;
        EXPECT_EQ(level.at("sentence"), verdict_text(input.job, pass, UnitSystem::metric)) << name;
    }
}

/// The steps over the speeds end, and hold the setting's own among those that may be offered.
TEST(ExploreSession, TheStripIsFilledStepByStep) {
    const ExploreInput input = explored_example("01-shortest-job", 4);
    ExploreSession session(input);
    ask(session, {{"ask", "judge"}, {"setting", setting_json(input.start.front().setting)}});
    nlohmann::json last, answer = nlohmann::json::object();
    for (int step = 0; step < 40 && answer.value("step", "") != "done"; ++step) {
        answer = ask(session, {{"ask", "next"}});
        ASSERT_FALSE(answer.contains("error")) << answer;
        if (answer.at("step") == "speeds") last = answer;
    }
    EXPECT_EQ(answer.at("step"), "done");
    const auto speeds = last.at("speed_rpm").get<std::vector<double>>();
    ASSERT_GE(speeds.size(), 8U);
    EXPECT_GT(speeds.front(), 3000);
    EXPECT_NEAR(speeds.back(), 12000, 1);
    EXPECT_TRUE(std::is_sorted(speeds.begin(), speeds.end()));
    EXPECT_NE(std::find_if(speeds.begin(), speeds.end(),
                           [](double rpm) { return std::abs(rpm - 9000) < 1e-6; }),
              speeds.end());
    for (const char* key : {"edge_m", "level", "share", "reasons", "offered"}) {
        EXPECT_EQ(last.at(key).size(), speeds.size()) << key;
    }
}

/// A taller riser and a longer stickout are softer, whatever else they do.
TEST(ExploreSession, TheQuickLookFollowsRiserAndStickout) {
    const ExploreInput input = explored_example("07-thin-tall-wall", 0);
    ExploreSession session(input);
    const ExploreSetting given = input.start.front().setting;
    const auto push_off = [&](const ExploreSetting& setting) {
        const nlohmann::json look =
            ask(session, {{"ask", "quick"}, {"setting", setting_json(setting)}});
        EXPECT_GE(look.at("speed_rpm").size(), 60U);
        EXPECT_NE(look.at("sentence").get<std::string>().find("dge of chatter"), std::string::npos);
        return std::abs(look.at("push_off_m").get<double>());
    };
    const double before = push_off(given);
    ExploreSetting taller = given;
    taller.riser_height = 0.18;
    EXPECT_GT(push_off(taller), before);
    ExploreSetting longer = given;
    longer.stickout = 0.07;
    EXPECT_GT(push_off(longer), 1.03 * before);
}

TEST(ExploreSession, NoLevelIsToldBeforeTheTries) {
    const ExploreInput input = explored_example("01-shortest-job", 4);
    ExploreSession session(input);
    const nlohmann::json setting = setting_json(input.start.front().setting);
    ask(session, {{"ask", "judge"}, {"setting", setting}});
    for (const nlohmann::json& answer : {ask(session, {{"ask", "quick"}, {"setting", setting}}),
                                         ask(session, {{"ask", "next"}})}) {
        EXPECT_FALSE(answer.contains("level"));
        const std::string sentence = answer.at("sentence");
        for (const char* word : {"avoid", "marginal", "nothing flagged", "Expect", "AVOID"}) {
            EXPECT_EQ(sentence.find(word), std::string::npos) << sentence;
        }
    }
}

/// A handle moves with the size that it stands for, one way, and so that the picture's scale says.
TEST(ExploreSession, HandlesStandWhereTheirSizesEnd) {
    const ExploreInput input = explored_example("07-thin-tall-wall", 0);
    ExploreSession session(input);
    ExploreSetting setting = input.start.front().setting;
    const nlohmann::json before =
        ask(session, {{"ask", "drawing"}, {"setting", setting_json(setting)}});
    EXPECT_EQ(before.at("handles").size(), 3U);
    const auto moved = [&](const ExploreSetting& to, const std::string& turns,
                           const std::string& still, double by) {
        nlohmann::json hold = before.at("view");
        hold["still"] = still;
        const nlohmann::json after =
            ask(session, {{"ask", "drawing"}, {"setting", setting_json(to)}, {"hold", hold}});
        for (std::size_t i = 0; i < 3; ++i) {
            const nlohmann::json &a = before.at("handles").at(i), &b = after.at("handles").at(i);
            if (a.at("turns") != turns) continue;
            for (int axis : {0, 1}) {
                EXPECT_NEAR(b.at("at").at(axis).get<double>() - a.at("at").at(axis).get<double>(),
                            by * a.at("along").at(axis).get<double>(), 1e-6)
                    << turns;
            }
            EXPECT_GT(std::abs(a.at("along").at(1).get<double>()), 100) << turns;
        }
    };
    ExploreSetting other = setting;
    other.riser_height = 0.1;
    moved(other, "riser", "table", 0.01);
    other = setting;
    other.stickout = 0.065;
    moved(other, "stickout", "tool", 0.005);
    other = setting;
    other.depth = 0.012;
    moved(other, "depth", "table", -0.004);
}

TEST(ExploreSession, WhatCannotBeAnsweredIsAnErrorAndNoEnd) {
    const ExploreInput input = explored_example("01-shortest-job", 0);
    ExploreSession session(input);
    for (const char* question : {"", "{", "[]", "{\"ask\":\"what\"}", "{\"ask\":\"next\"}",
                                 "{\"ask\":\"quick\",\"setting\":{}}", "null"}) {
        EXPECT_TRUE(nlohmann::json::parse(session.answer(question)).contains("error")) << question;
    }
    ExploreSetting setting = input.start.front().setting;
    setting.depth = -1;
    EXPECT_TRUE(
        ask(session, {{"ask", "quick"}, {"setting", setting_json(setting)}}).contains("error"));
    setting = input.start.front().setting;
    setting.pass = 7;
    EXPECT_TRUE(
        ask(session, {{"ask", "drawing"}, {"setting", setting_json(setting)}}).contains("error"));
    EXPECT_FALSE(ask(session, {{"ask", "start"}}).contains("error"));
}

}  // namespace
}  // namespace standfast
