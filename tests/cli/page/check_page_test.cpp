#include "cli/page/check_page.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "cli/job/read_job.hpp"
#include "cli/page/moved_shape.hpp"
#include "cli/page/pass_charts.hpp"
#include "cli/page/plane.hpp"
#include "fea/judgement/pass/check.hpp"
#include "tests/cli/page/page_reader.hpp"

namespace standfast {
namespace {

struct Checked {
    Job job;
    JobReport report;
};

Checked checked(const std::string& example, int draws = 8) {
    Checked result;
    ReadResult read =
        read_job(std::string(STANDFAST_SOURCE_DIR "/examples/") + example + "/job.toml", {});
    result.job = std::move(*read.job);
    CheckOptions how;
    how.method = StabilityMethod::zero_order;
    how.odds.draws = draws;
    how.speeds = {SpindleSpeed::from_rpm(6000), SpindleSpeed::from_rpm(7500),
                  SpindleSpeed::from_rpm(9000)};
    how.only_pass = 0;
    result.report = check_job(result.job, how);
    return result;
}

const Checked& shortest() {
    static const Checked result = checked("01-shortest-job");
    return result;
}

TEST(CheckPage, ATitleIsDataWhereverItStands) {
    const std::string attack = "</script><img src=x onerror=alert(1)><!--\xE2\x80\xAE";
    Checked hostile = shortest();
    hostile.report.title = attack;
    hostile.job.title = attack;
    for (PassReport& pass : hostile.report.passes) {
        pass.name = attack;
        pass.tool = attack;
        for (GiveShare& give : pass.statics.give) give.member = attack;
    }
    for (Tier& tier : hostile.job.stack.tiers) tier.name = attack;
    for (Assumption& of : hostile.report.assumed) of.path = of.text = of.source = attack;
    hostile.report.not_judged = {attack};
    const std::string page =
        check_page({{&hostile.job, &hostile.report, "job.toml"}}, UnitSystem::metric).text();
    EXPECT_EQ(page.find("<img"), std::string::npos);
    EXPECT_EQ(page.find("\xE2\x80\xAE"), std::string::npos);
    EXPECT_EQ(tests::unbalanced(tests::own_part(page)), "");
    EXPECT_NO_THROW(tests::payload_of(page));
}

TEST(CheckPage, EveryChartHasItsTableAndDrawsColumnsOfIt) {
    const Checked& job = shortest();
    const std::string page =
        check_page({{&job.job, &job.report, "job.toml"}}, UnitSystem::metric).text();
    const nlohmann::json charts = tests::payload_of(page).at("charts");
    ASSERT_GE(charts.size(), 5U);
    for (const nlohmann::json& chart : charts) {
        const auto rows = tests::table_of(page, chart.at("id"));
        ASSERT_FALSE(rows.empty()) << chart.at("title");
        for (const nlohmann::json& series : chart.at("series")) {
            bool number = false;
            for (const auto& row : rows) {
                const std::size_t column = series.at("column");
                ASSERT_LT(column, row.size()) << chart.at("title");
                number =
                    number || (!row[column].empty() &&
                               row[column].find_first_not_of("-0123456789.") == std::string::npos);
            }
            const bool may_be_empty = series.at("label") != "both";
            EXPECT_TRUE(number || may_be_empty) << chart.at("title") << series.at("label");
        }
    }
}

TEST(CheckPage, TheSpeedTableHoldsTheLimitsOfTheReport) {
    const Checked& job = shortest();
    const PassReport& pass = job.report.passes.front();
    const std::string page =
        check_page({{&job.job, &job.report, "job.toml"}}, UnitSystem::metric).text();
    const nlohmann::json charts = tests::payload_of(page).at("charts");
    for (const nlohmann::json& chart : charts) {
        if (chart.at("title") != "How deep at which speed") continue;
        const auto rows = tests::table_of(page, chart.at("id"));
        ASSERT_EQ(rows.size(), pass.stability.speeds.size());
        for (std::size_t i = 0; i < rows.size(); ++i) {
            const SpeedLimit& at = pass.stability.speeds[i];
            EXPECT_NEAR(std::stod(rows[i][0]), at.speed.rpm(), 0.5);
            if (at.limit) {
                EXPECT_NEAR(std::stod(rows[i][1]), *at.limit * 1e3, 0.00501);
            } else {
                EXPECT_EQ(rows[i][1].substr(0, 5), "over ");
            }
        }
        return;
    }
    FAIL() << "no speed chart";
}

TEST(CheckPage, TwoSetUpsStandSideBySideWithWhatDiffers) {
    const Checked& job = shortest();
    Checked taller = job;
    taller.report.title = "The taller one";
    taller.job.stack.tiers.front().height += 0.02;
    const std::string page =
        check_page({{&job.job, &job.report, "a.toml"}, {&taller.job, &taller.report, "b.toml"}},
                   UnitSystem::metric)
            .text();
    EXPECT_NE(page.find("Side by side"), std::string::npos);
    EXPECT_NE(page.find("The taller one"), std::string::npos);
    const std::string differences = tests::between(page, "What is different", "</table>");
    EXPECT_NE(differences.find(": height"), std::string::npos);
    EXPECT_EQ(differences.find(": material"), std::string::npos);
}

TEST(CheckPage, LevelsAreToldByWordsAndHatchingNeverByColourAlone) {
    for (const Level level : {Level::unflagged, Level::marginal, Level::avoid}) {
        const std::string html = level_html(level, true);
        EXPECT_NE(html.find("class=\"level "), std::string::npos);
        EXPECT_NE(html.find('>'), html.rfind('>'));
    }
    EXPECT_EQ(level_html(Level::unflagged, false).find("NOTHING FLAGGED"), std::string::npos);
    EXPECT_NE(dots_html(0.93).find("9 of 10 tries"), std::string::npos);
}

/// The drawing's bent shape and the judgement's push-off are the same model under the same force;
/// the drawing puts it in the middle of the cut, the judgement spreads it along the edge.
TEST(MovedShape, BendsAsFarAsTheJudgementSays) {
    const Checked& job = shortest();
    const PassReport& pass = job.report.passes.front();
    const MovedShapes shapes = moved_shapes(job.job, pass, 2);
    EXPECT_EQ(shapes.why_not, "");
    double tool = 0;
    for (const MovedPiece& piece : shapes.under_force.pieces) {
        if (piece.member != "cutter") continue;
        tool = std::max(tool, piece.moved.colwise().norm().maxCoeff());
    }
    EXPECT_NEAR(tool / pass.statics.tool.norm(), 1, 0.3);
    ASSERT_FALSE(shapes.modes.empty());
    EXPECT_DOUBLE_EQ(shapes.modes.front().hertz, pass.work_modes.front().frequency_hertz);
}

TEST(DrawingPlane, AHullIsTheOutlineOfItsPoints) {
    const auto hull = hull_of({{0, 0}, {1, 0}, {1, 1}, {0, 1}, {0.5, 0.5}, {0.5, 0}});
    EXPECT_EQ(hull.size(), 4U);
}

TEST(ReceptanceChart, StartsAtTheStaticComplianceOfBothSides) {
    const Checked& job = shortest();
    const PassReport& pass = job.report.passes.front();
    const Chart chart = receptance_chart(job.job, pass, UnitSystem::metric);
    // Far below the first mode the receptance is the compliance; tip against the height of the
    // largest error.
    const double first = *chart.columns[2].values.front();
    EXPECT_NEAR(first * 1e-6 / pass.statics.tool_compliance, 1, 0.35);
    EXPECT_LT(chart.columns.front().values.size(), 600U);
}

}  // namespace
}  // namespace standfast
