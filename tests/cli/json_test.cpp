#include "cli/report/check/json.hpp"

#include <gtest/gtest.h>

#include <limits>
#include <nlohmann/json.hpp>
#include <set>

#include "tests/cli/sample_report.hpp"

namespace standfast {
namespace {

using nlohmann::json;
using tests::sample_job;
using tests::sample_report;

json document(const JobReport& report, UnitSystem units = UnitSystem::metric) {
    return json::parse(check_json(sample_job(), report, units));
}

/// Paths of every key, "passes[].verdict.level"; entries of an array share one path.
void collect(const json& value, const std::string& path, std::set<std::string>& keys) {
    if (value.is_object()) {
        for (const auto& [key, child] : value.items()) {
            const std::string whole = path.empty() ? key : path + "." + key;
            keys.insert(whole);
            collect(child, whole, keys);
        }
    }
    if (value.is_array()) {
        for (const json& child : value) {
            collect(child, path + "[]", keys);
        }
    }
}

TEST(CheckJson, HasEveryKeyOfTheContract) {
    std::set<std::string> keys;
    JobReport report = sample_report();
    report.stack_modes = report.passes[0].work_modes;
    collect(document(report), "", keys);
    for (const std::string key : {"schema",
                                  "title",
                                  "assumed",
                                  "cautions",
                                  "not_judged",
                                  "stack.mass_kg",
                                  "stack.centre_of_mass_m",
                                  "stack.modes[].frequency_hz",
                                  "stack.modes[].damping_ratio",
                                  "stack.modes[].strain_share",
                                  "passes[].name",
                                  "passes[].tool",
                                  "passes[].verdict.level",
                                  "passes[].verdict.reasons",
                                  "passes[].verdict.text",
                                  "passes[].advice[].set",
                                  "passes[].advice[].limit_ratio",
                                  "passes[].advice[].error_ratio",
                                  "passes[].advice[].text",
                                  "passes[].tool_modes[].frequency_hz",
                                  "passes[].work_modes[].strain_share",
                                  "passes[].gauge_length_m",
                                  "passes[].stickout_m",
                                  "passes[].engagement.entry_deg",
                                  "passes[].engagement.exit_deg",
                                  "passes[].tooth_passing_hz",
                                  "passes[].force.mean_n",
                                  "passes[].force.peak_n",
                                  "passes[].static.error_m",
                                  "passes[].static.tool_m",
                                  "passes[].static.work_m",
                                  "passes[].static.give[].member",
                                  "passes[].static.give[].side",
                                  "passes[].static.give[].share",
                                  "passes[].stability.method",
                                  "passes[].stability.speed_rpm",
                                  "passes[].stability.limit_m",
                                  "passes[].stability.searched_to_m",
                                  "passes[].stability.kind",
                                  "passes[].stability.chatter_hz",
                                  "passes[].surface_error.speed_rpm",
                                  "passes[].surface_error.error_m",
                                  "passes[].surface_error.height_m",
                                  "passes[].surface_error.profile_m",
                                  "passes[].surface_error.peak_to_peak_m",
                                  "passes[].surface_error.fed_back_m",
                                  "passes[].surface_error.waviness_m",
                                  "passes[].speeds[].rpm",
                                  "passes[].speeds[].level",
                                  "passes[].speeds[].reasons",
                                  "passes[].speeds[].offered",
                                  "passes[].quiet_bands[].from_rpm",
                                  "passes[].quiet_bands[].to_rpm",
                                  "passes[].quiet_bands[].limit_m",
                                  "passes[].stay_off[].from_rpm",
                                  "passes[].stay_off[].to_rpm",
                                  "passes[].stay_off[].reason",
                                  "passes[].holding.judged",
                                  "passes[].holding.factor",
                                  "passes[].holding.joint",
                                  "passes[].holding.mode",
                                  "passes[].holding.joints",
                                  "passes[].reach.judged",
                                  "passes[].reach.clear",
                                  "passes[].reach.least_stickout_m",
                                  "passes[].reach.nearest",
                                  "passes[].reach.distance_m",
                                  "passes[].tool_stress.judged",
                                  "passes[].weight.mass_kg"}) {
        EXPECT_TRUE(keys.contains(key)) << key;
    }
    EXPECT_EQ(document(report)["schema"], "standfast.check/1");
}

TEST(CheckJson, LeavesOutWhatIsNotComputed) {
    const json pass = document(sample_report())["passes"][0];
    EXPECT_FALSE(pass["stability"].contains("probability"));
    EXPECT_FALSE(pass.contains("march"));
    EXPECT_FALSE(pass["reach"]["judged"]);
    EXPECT_TRUE(pass["reach"]["nearest"].is_null());
    EXPECT_TRUE(pass["reach"]["least_stickout_m"].is_null());
}

TEST(CheckJson, ReachTellsWhatComesNearestAndHowFarOutTheToolMustBe) {
    JobReport report = sample_report();
    ReachResult& reach = report.passes[0].reach;
    reach.judged = true;
    reach.fault = ReachFault::too_near;
    reach.tool_solid = "holder";
    reach.work_solid = "riser";
    reach.distance = 1.5e-3;
    reach.clearance = 2e-3;
    reach.least_stickout = 59e-3;
    const json read = document(report)["passes"][0]["reach"];
    EXPECT_EQ(read["clear"], false);
    EXPECT_EQ(read["fault"], "too near");
    EXPECT_EQ(read["nearest"], "holder against riser");
    EXPECT_DOUBLE_EQ(read["distance_m"].get<double>(), 1.5e-3);
    EXPECT_DOUBLE_EQ(read["least_stickout_m"].get<double>(), 59e-3);
    EXPECT_TRUE(read["tilt_available_deg"].is_null());
}

TEST(CheckJson, NoneIsNullAndCurvesStayParallel) {
    const json pass = document(sample_report())["passes"][0];
    const json& stability = pass["stability"];
    for (const char* const key : {"limit_m", "kind", "chatter_hz"}) {
        EXPECT_EQ(stability[key].size(), stability["speed_rpm"].size()) << key;
        EXPECT_TRUE(stability[key][2].is_null()) << key;
    }
    const json& surface = pass["surface_error"];
    EXPECT_TRUE(surface["error_m"][1].is_null());
    for (const json& row : surface["profile_m"]) {
        EXPECT_EQ(row.size(), surface["height_m"].size());
    }
}

TEST(CheckJson, NumbersReadBackToTheSameDoubleAndSpeedsAsProgrammed) {
    JobReport report = sample_report();
    report.mass = 0.1 + 0.2;
    const json read = document(report);
    EXPECT_EQ(read["stack"]["mass_kg"].get<double>(), 0.1 + 0.2);
    EXPECT_EQ(read["passes"][0]["stability"]["speed_rpm"][1].get<double>(), 9000.0);
}

TEST(CheckJson, NeverHoldsNanOrInfinity) {
    JobReport report = sample_report();
    report.mass = std::numeric_limits<double>::quiet_NaN();
    report.passes[0].holding.factor = std::numeric_limits<double>::infinity();
    const std::string text = check_json(sample_job(), report, UnitSystem::metric);
    const json read = json::parse(text);
    EXPECT_TRUE(read["stack"]["mass_kg"].is_null());
    EXPECT_TRUE(read["passes"][0]["holding"]["factor"].is_null());
}

TEST(CheckJson, SetCanBePastedIntoTheJob) {
    const json advice = document(sample_report())["passes"][0]["advice"];
    EXPECT_EQ(advice[0]["set"]["tool.\"long finisher\".cutter.stickout"], "45 mm");
    EXPECT_EQ(advice[2]["set"]["tool.\"long finisher\".cutter.teeth"], 3);
    const json inch = document(sample_report(), UnitSystem::inch)["passes"][0]["advice"];
    const std::string stickout = inch[0]["set"]["tool.\"long finisher\".cutter.stickout"];
    EXPECT_EQ(parse_quantity(stickout, Quantity::length).value, 45e-3);
}

TEST(CheckJson, EveryAssumptionHasItsText) {
    for (const json& assumption : document(sample_report())["assumed"]) {
        EXPECT_FALSE(assumption["text"].get<std::string>().empty()) << assumption;
        EXPECT_FALSE(assumption["path"].get<std::string>().empty()) << assumption;
    }
}

TEST(CheckJson, CautionsSpeakOfHoldingBreakageAndOverspeed) {
    const std::string cautions = document(sample_report())["cautions"].dump();
    for (const char* const word : {"Holding", "Breakage", "Overspeed", "qualified"}) {
        EXPECT_NE(cautions.find(word), std::string::npos) << word;
    }
}

TEST(CheckJson, SeveralJobsAreOneArrayAndOneJobIsOneDocument) {
    const std::string one = check_json(sample_job(), sample_report(), UnitSystem::metric);
    EXPECT_TRUE(json::parse(join_documents({one})).is_object());
    const json several = json::parse(join_documents({one, one}));
    ASSERT_TRUE(several.is_array());
    EXPECT_EQ(several.size(), 2U);
    EXPECT_EQ(several[1], json::parse(one));
}

}  // namespace
}  // namespace standfast
