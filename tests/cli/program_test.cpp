#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <nlohmann/json.hpp>

#include "tests/support/run_program.hpp"

namespace standfast {
namespace {

using nlohmann::json;
using tests::ProgramCall;
using tests::ProgramResult;
using tests::run_program;
using tests::TemporaryFolder;

const std::string kShortest = STANDFAST_SOURCE_DIR "/examples/01-shortest-job/job.toml";
const std::string kMeasuredModes = STANDFAST_SOURCE_DIR "/examples/09-measured-modes/job.toml";

bool has(const std::string& text, const std::string& part) {
    return text.find(part) != std::string::npos;
}

std::string text_of(const std::string& path) {
    std::ifstream stream(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(stream), {}};
}

TEST(Program, HelpAndVersionGoToStandardOutput) {
    const ProgramResult help = run_program({"--help"});
    EXPECT_EQ(help.exit_code, 0);
    EXPECT_TRUE(has(help.standard_output, "check JOB..."));
    EXPECT_EQ(help.standard_error, "");
    const ProgramResult daily = run_program({"check", "--help"});
    EXPECT_EQ(daily.exit_code, 0);
    EXPECT_TRUE(has(daily.standard_output, "--report FILE.html"));
    EXPECT_FALSE(has(daily.standard_output, "--shard"));
    EXPECT_TRUE(has(daily.standard_output, "check --help all"));
    EXPECT_TRUE(has(run_program({"check", "--help", "all"}).standard_output, "--shard"));
    EXPECT_TRUE(has(run_program({"--version"}).standard_output, "standfast "));
}

TEST(Program, BadUsageIsExitCodeTwoWithOneLineOnStandardError) {
    const std::vector<std::vector<std::string>> calls = {
        {},
        {"chek", "job.toml"},
        {"trade"},
        {"explain", "job.toml"},
        {"check"},
        {"check", "--lenght", "1", kShortest},
        {"check", kShortest, "--draws", "many"},
        {"check", kShortest, "--units", "furlong"},
        {"check", kShortest, "--speeds", "5100"},
        {"check", kShortest, "--csv"},
        {"check", kShortest, "--pass", "no such pass"},
        {"check", "no-such-file.toml"},
        {"check", "."},
        {"materials", "unobtainium"}};
    for (const auto& call : calls) {
        const ProgramResult result = run_program(call);
        EXPECT_EQ(result.exit_code, 2) << testing::PrintToString(call);
        EXPECT_EQ(result.standard_output, "") << testing::PrintToString(call);
        EXPECT_NE(result.standard_error, "") << testing::PrintToString(call);
    }
}

TEST(Program, DrawsSayHowSureTheAnswerIsAndTheSameSeedSaysItAgain) {
    const std::vector<std::string> call = {"check",    kShortest, "--draws", "16",
                                           "--speeds", "9000rpm", "--seed",  "3"};
    const ProgramResult once = run_program(call), again = run_program(call);
    EXPECT_EQ(once.exit_code, 0) << once.standard_error;
    EXPECT_NE(once.standard_output.find("of 16 tries"), std::string::npos);
    EXPECT_EQ(once.standard_output, again.standard_output);
}

TEST(Program, AnswersInTheUnitsOfMostOfTheJobUnlessTold) {
    const TemporaryFolder folder;
    const auto answer = [&](const std::string& job, const std::vector<std::string>& more) {
        std::vector<std::string> call{
            "check", folder.write("job.toml", job), "--method", "zero-order", "--draws", "0"};
        call.insert(call.end(), more.begin(), more.end());
        return run_program(call).standard_output;
    };
    const std::string inches = text_of(kShortest);
    EXPECT_TRUE(has(answer(inches, {}), "0.5 in deep"));
    EXPECT_TRUE(has(answer(inches, {"--units", "metric"}), "12.7 mm deep"));
    const std::string millimetres = text_of(kMeasuredModes);
    EXPECT_TRUE(has(answer(millimetres, {}), " mm deep"));
    EXPECT_TRUE(has(answer(millimetres, {"--units", "inch"}), " in deep"));
}

TEST(Program, TwoJobsStandSideBySide) {
    const TemporaryFolder folder;
    std::string job = text_of(kShortest);
    const std::string first = folder.write("a.toml", job);
    const std::size_t at = job.find("9000 rpm");
    ASSERT_NE(at, std::string::npos);
    job.replace(at, 8, "7000 rpm");
    const ProgramResult both = run_program(
        {"check", first, folder.write("b.toml", job), "--method", "zero-order", "--draws", "0"});
    EXPECT_EQ(both.exit_code, 0) << both.standard_error;
    EXPECT_TRUE(has(both.standard_output, "What is different"));
    EXPECT_TRUE(has(both.standard_output, ": speed")) << both.standard_output;
    EXPECT_FALSE(has(both.standard_output, ": height")) << both.standard_output;
}

TEST(Program, NewWritesAJobThatRunsInBothUnitSystems) {
    for (const std::string units : {"metric", "inch"}) {
        const TemporaryFolder folder;
        const ProgramResult made = run_program(
            ProgramCall{.arguments = {"new", "--units", units}, .folder = folder.path()});
        EXPECT_EQ(made.exit_code, 0) << made.standard_error;
        const ProgramResult checked = run_program(ProgramCall{
            .arguments = {"check", "job.toml", "--units", units}, .folder = folder.path()});
        EXPECT_EQ(checked.exit_code, 0) << checked.standard_error;
        EXPECT_EQ(checked.standard_error, "");
    }
}

TEST(Program, NewNeverOverwritesWithoutForce) {
    const TemporaryFolder folder;
    folder.write("mine.toml", "precious");
    const ProgramCall call{.arguments = {"new", "mine.toml"}, .folder = folder.path()};
    const ProgramResult refused = run_program(call);
    EXPECT_EQ(refused.exit_code, 2);
    EXPECT_TRUE(has(refused.standard_error, "--force")) << refused.standard_error;
    EXPECT_EQ(folder.read("mine.toml"), "precious");
    ProgramCall forced = call;
    forced.arguments.emplace_back("--force");
    EXPECT_EQ(run_program(forced).exit_code, 0);
    EXPECT_NE(folder.read("mine.toml"), "precious");
}

TEST(Program, TheShortestJobFitsOneScreenWithoutColourWhenPiped) {
    const ProgramResult result = run_program({"check", kShortest});
    EXPECT_EQ(result.exit_code, 0) << result.standard_error;
    EXPECT_EQ(result.standard_error, "");
    EXPECT_FALSE(has(result.standard_output, "\x1b"));
    const auto lines =
        std::count(result.standard_output.begin(), result.standard_output.end(), '\n');
    EXPECT_LE(lines, 42) << result.standard_output;
    EXPECT_FALSE(has(result.standard_output, "nothing flagged:")) << result.standard_output;
}

TEST(Program, TheTerminalGetsColourUnlessNoColorIsSet) {
    ProgramCall call{.arguments = {"check", kShortest},
                     .environment = {"NO_COLOR=", "TERM=xterm"},
                     .terminal_columns = 100};
    EXPECT_TRUE(has(run_program(call).standard_output, "\x1b["));
    call.environment = {"NO_COLOR=1", "TERM=xterm"};
    EXPECT_FALSE(has(run_program(call).standard_output, "\x1b["));
    call.environment = {"NO_COLOR=", "TERM=dumb"};
    EXPECT_FALSE(has(run_program(call).standard_output, "\x1b["));
    call.arguments = {"check", kShortest, "--color", "always"};
    EXPECT_TRUE(has(run_program(call).standard_output, "\x1b["));
    EXPECT_FALSE(
        has(run_program({"check", kShortest, "--color", "never"}).standard_output, "\x1b"));
    EXPECT_TRUE(
        has(run_program({"check", kShortest, "--color", "always"}).standard_output, "\x1b"));
}

TEST(Program, ProgressShowsOnATerminalAndIsWipedAgain) {
    const ProgramCall call{.arguments = {"check", kShortest, kShortest, "--quiet"},
                           .environment = {"TERM=xterm"},
                           .terminal_columns = 80};
    EXPECT_FALSE(has(run_program(call).standard_output, "computing"));
    ProgramCall shown = call;
    shown.arguments = {"check", kShortest, kShortest};
    const std::string text = run_program(shown).standard_output;
    EXPECT_TRUE(has(text, "computing 2 of 2"));
    EXPECT_TRUE(has(text, "\x1b[K"));
    EXPECT_EQ(run_program({"check", kShortest, kShortest}).standard_error, "");
}

TEST(Program, JsonIsOneDocumentWithNumbersOnly) {
    const ProgramResult result = run_program({"check", kShortest, "--json"});
    ASSERT_EQ(result.exit_code, 0) << result.standard_error;
    const json read = json::parse(result.standard_output);
    EXPECT_EQ(read["schema"], "standfast.check/1");
    ASSERT_EQ(read["passes"].size(), 1U);
    EXPECT_GE(read["passes"][0]["stability"]["speed_rpm"].size(), 80U);
    EXPECT_GE(read["passes"][0]["tool_modes"].size(), 6U);
    EXPECT_FALSE(read["assumed"].empty());
    // No clamp force is given: whatever else holds, the pass is not clean.
    EXPECT_FALSE(read["passes"][0]["holding"]["judged"].get<bool>());
    EXPECT_NE(read["passes"][0]["verdict"]["level"], "unflagged");
}

TEST(Program, TheSameJobGivesTheSameBytes) {
    EXPECT_EQ(run_program({"check", kShortest, "--json"}).standard_output,
              run_program({"check", kShortest, "--json"}).standard_output);
}

TEST(Program, SpeedsAreThoseAskedFor) {
    const ProgramResult result =
        run_program({"check", kShortest, "--json", "--speeds", "5100 5500 rpm"});
    ASSERT_EQ(result.exit_code, 0) << result.standard_error;
    const json read = json::parse(result.standard_output);
    EXPECT_EQ(read["passes"][0]["stability"]["speed_rpm"], json({5100.0, 5500.0}));
}

TEST(Program, BothMethodsAnswerAndSayWhichTheyAre) {
    for (const std::string method : {"zero-order", "periodic"}) {
        const ProgramResult result = run_program(
            {"check", kMeasuredModes, "--json", "--method", method, "--speeds", "6200 rpm"});
        ASSERT_EQ(result.exit_code, 0) << result.standard_error;
        const json stability = json::parse(result.standard_output)["passes"][0]["stability"];
        EXPECT_EQ(stability["method"], method);
        EXPECT_EQ(stability["speed_rpm"], json::array({6200.0}));
    }
}

TEST(Program, AMarchFollowsOnePassAndWritesItsCourse) {
    const TemporaryFolder folder;
    const ProgramResult result = run_program(
        {"check", kShortest, "--march", "--speeds", "9000 rpm", "--csv", folder.path() + "/out"});
    ASSERT_EQ(result.exit_code, 0) << result.standard_error;
    EXPECT_TRUE(has(result.standard_output, "turns from rest")) << result.standard_output;
    std::string course;
    for (const auto& entry : std::filesystem::directory_iterator(folder.path() + "/out")) {
        const std::string name = entry.path().filename().string();
        if (name.ends_with("-march.csv")) {
            course = folder.read("out/" + name);
        }
    }
    EXPECT_TRUE(course.starts_with("time_s,revolution,displacement_x_m,"));
    EXPECT_GT(std::count(course.begin(), course.end(), '\n'), 1000);

    const json read =
        json::parse(run_program({"check", kShortest, "--march", "--speeds", "9000 rpm", "--json"})
                        .standard_output);
    const json march = read["passes"][0]["march"];
    EXPECT_EQ(march["rpm"], 9000.0);
    EXPECT_TRUE(march["outcome"].is_string());
    EXPECT_EQ(march["peak_to_peak_m"].size(), 3U);
    EXPECT_EQ(run_program({"check", kShortest, "--march", "--speeds", "9000 9500 rpm"}).exit_code,
              2);
}

TEST(Program, TheJobMayChooseTheDrawsAndTheCommandLineWins) {
    const TemporaryFolder folder;
    std::ifstream stream(kShortest);
    std::string text{std::istreambuf_iterator<char>(stream), {}};
    text += "\n[uncertainty]\ndraws = 12\nseed = 5\ngrip_stiffness = 1.2\n";
    const std::string job = folder.write("job.toml", text);
    const auto odds = [&](const std::vector<std::string>& more) {
        std::vector<std::string> call = {"check", job, "--json", "--speeds", "9000 rpm"};
        call.insert(call.end(), more.begin(), more.end());
        return json::parse(run_program(call).standard_output)["passes"][0]["odds"];
    };
    EXPECT_EQ(odds({})["draws"], 12);
    EXPECT_EQ(odds({})["seed"], 5);
    EXPECT_EQ(odds({"--draws", "8", "--seed", "2"})["draws"], 8);
    EXPECT_EQ(odds({"--seed", "2"})["seed"], 2);
}

TEST(Program, StrictTurnsAvoidIntoExitCodeThree) {
    const ProgramResult json_run = run_program({"check", kShortest, "--json"});
    const json read = json::parse(json_run.standard_output);
    const bool avoid = read["passes"][0]["verdict"]["level"] == "avoid";
    EXPECT_EQ(run_program({"check", kShortest, "--strict"}).exit_code, avoid ? 3 : 0);
}

TEST(Program, CsvFilesAreWrittenOnceMoreButNeverOverSomebodysOwn) {
    const TemporaryFolder folder;
    const std::vector<std::string> call = {"check", kShortest, "--csv", folder.path() + "/out",
                                           "--quiet"};
    const ProgramResult first = run_program(call);
    ASSERT_EQ(first.exit_code, 0) << first.standard_error;
    EXPECT_EQ(run_program(call).exit_code, 0);

    std::string speeds;
    for (const auto& entry : std::filesystem::directory_iterator(folder.path() + "/out")) {
        const std::string name = entry.path().filename().string();
        if (name.ends_with("-speeds.csv")) {
            speeds = name;
        }
    }
    ASSERT_NE(speeds, "");
    folder.write("out/" + speeds, "mine");
    EXPECT_EQ(run_program(call).exit_code, 2);
    EXPECT_EQ(folder.read("out/" + speeds), "mine");
}

TEST(Program, AFullDiskIsNoSuccess) {
    const ProgramResult result = run_program(
        ProgramCall{.arguments = {"-c", "'" STANDFAST_PROGRAM "' materials > /dev/full"}}, "sh");
    EXPECT_EQ(result.exit_code, 1);
    EXPECT_TRUE(has(result.standard_error, "could not be written")) << result.standard_error;
}

TEST(Program, MaterialsListsAndShowsOneWithItsSource) {
    const ProgramResult list = run_program({"materials"});
    EXPECT_EQ(list.exit_code, 0);
    EXPECT_TRUE(has(list.standard_output, "6061"));
    const ProgramResult one = run_program({"materials", "6061"});
    EXPECT_EQ(one.exit_code, 0);
    EXPECT_TRUE(has(one.standard_output, "2700")) << one.standard_output;
    EXPECT_TRUE(has(run_program({"materials", "alumnium"}).standard_error, "did you mean"));
}

}  // namespace
}  // namespace standfast
