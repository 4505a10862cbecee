// `standfast trade` as a person or a script meets it: the program is run.
#include <fcntl.h>
#include <gtest/gtest.h>
#include <signal.h>
#include <sys/file.h>

#include <algorithm>
#include <chrono>
#include <filesystem>
#include <nlohmann/json.hpp>
#include <sstream>
#include <thread>

#include "tests/support/run_program.hpp"

namespace standfast {
namespace {

using nlohmann::json;
using tests::ProgramCall;
using tests::ProgramResult;
using tests::run_program;
using tests::TemporaryFolder;

const std::string kExamples = STANDFAST_SOURCE_DIR "/examples/";
const std::string kLowRiser = kExamples + "12-heavy-part-low-riser/job.toml";
const std::string kShortest = kExamples + "01-shortest-job/job.toml";

bool has(const std::string& text, const std::string& part) {
    return text.find(part) != std::string::npos;
}

/// Fast enough to be run often: zero-order, no draws.
std::vector<std::string> quick(const std::vector<std::string>& jobs,
                               const std::vector<std::string>& more = {}) {
    std::vector<std::string> words{"trade"};
    words.insert(words.end(), jobs.begin(), jobs.end());
    for (const char* word : {"--method", "zero-order", "--draws", "0"}) words.emplace_back(word);
    words.insert(words.end(), more.begin(), more.end());
    return words;
}

TEST(TradeProgram, JsonHasTheShapeOfItsSchema) {
    const ProgramResult result = run_program(quick({kLowRiser}, {"--json"}));
    ASSERT_EQ(result.exit_code, 0) << result.standard_error;
    const json read = json::parse(result.standard_output);
    EXPECT_EQ(read["schema"], "standfast.trade/1");
    EXPECT_EQ(read["riser"], "riser");
    ASSERT_EQ(read["options"].size(), 7U);
    for (const json& option : read["options"]) {
        for (const char* key : {"id", "tiers", "height_m", "mass_kg", "level", "reasons"})
            EXPECT_TRUE(option.contains(key)) << key;
        for (const char* key : {"name",
                                "tool",
                                "clear",
                                "least_stickout_m",
                                "stickout_m",
                                "limit_m",
                                "error_m",
                                "probability",
                                "level",
                                "reasons",
                                "best_probability",
                                "cautious_m",
                                "left_out",
                                "surrogates",
                                "best_level",
                                "best_error_m",
                                "feed_m_per_s",
                                "length_share",
                                "held_by",
                                "stickouts_out",
                                "why",
                                "finish"})
            EXPECT_TRUE(option["passes"][0].contains(key)) << key;
    }
    const json& grid = read["grid"][0];
    EXPECT_EQ(grid["height_m"].size(), 7U);
    EXPECT_EQ(grid["limit_m"].size(), 7U);
    EXPECT_EQ(grid["limit_m"][0].size(), grid["stickout_m"].size());
    EXPECT_EQ(grid["clear"][6].size(), grid["stickout_m"].size());
    EXPECT_TRUE(read["best"]["stickout_m"].contains("20 mm end mill"));
}

TEST(TradeProgram, ScreenFitsWithoutColourWhenPipedAndNamesTheBest) {
    const ProgramResult result = run_program(quick({kLowRiser}));
    EXPECT_EQ(result.exit_code, 0) << result.standard_error;
    EXPECT_FALSE(has(result.standard_output, "\x1b"));
    EXPECT_TRUE(has(result.standard_output, "for \"riser\", 20 mm end mill"));
    const auto lines =
        std::count(result.standard_output.begin(), result.standard_output.end(), '\n');
    EXPECT_LE(lines, 60) << result.standard_output;
}

TEST(TradeProgram, ALongNameOfARiserPushesNoColumnOff) {
    const TemporaryFolder folder;
    std::string shelf = "[[riser]]\nname = \"" + std::string(90, 'w') +
                        "\"\nmaterial = \"steel\"\nround = \"90 mm\"\nheight = \"120 mm\"\n";
    folder.write("job.toml", "use = [\"" + kLowRiser + "\"]\n" + shelf);
    const ProgramResult result =
        run_program(ProgramCall{.arguments = quick({"job.toml"}), .folder = folder.path()});
    ASSERT_EQ(result.exit_code, 0) << result.standard_error;
    std::istringstream lines(result.standard_output);
    std::string line;
    int rows = 0;
    while (std::getline(lines, line)) {
        EXPECT_LE(line.size(), 82U) << line;
        rows += has(line, " kg ") && has(line, "rigidity");
    }
    EXPECT_EQ(rows, 8) << result.standard_output;
}

TEST(TradeProgram, MergedSharesAreTheSingleRunByteForByte) {
    const TemporaryFolder folder;
    std::vector<std::string> merge{"trade", "--merge"};
    for (const std::string k : {"1", "2", "3"}) {
        const std::string file = folder.path() + "/share-" + k + ".jsonl";
        merge.push_back(file);
        const ProgramResult share = run_program(
            quick({kLowRiser, kShortest}, {"--shard", k + "/3", "--out", file, "--draws", "4"}));
        ASSERT_EQ(share.exit_code, 0) << share.standard_error;
    }
    for (const char* form : {"--json", "--assumed", "--quiet"}) {
        std::vector<std::string> merged = merge;
        merged.emplace_back(form);
        const ProgramResult single =
            run_program(quick({kLowRiser, kShortest}, {"--draws", "4", form}));
        const ProgramResult joined = run_program(merged);
        EXPECT_EQ(joined.exit_code, 0) << joined.standard_error;
        EXPECT_EQ(joined.standard_output, single.standard_output) << form;
    }
    merge.pop_back();
    const ProgramResult gap = run_program(merge);
    EXPECT_EQ(gap.exit_code, 2);
    EXPECT_TRUE(has(gap.standard_error, "are missing")) << gap.standard_error;
}

TEST(TradeProgram, AnInterruptedShardGoesOnWhereItWas) {
    const TemporaryFolder folder;
    const std::string file = folder.path() + "/share.jsonl";
    const auto call = quick({kLowRiser}, {"--shard", "1/1", "--out", file});
    ASSERT_EQ(run_program(call).exit_code, 0);
    const std::string whole = folder.read("share.jsonl");
    const std::size_t second = whole.find('\n', whole.find('\n') + 1) + 1;
    folder.write("share.jsonl", whole.substr(0, second + 40));  // a torn third line
    EXPECT_EQ(run_program({"trade", "--merge", file}).exit_code, 2);
    ASSERT_EQ(run_program(call).exit_code, 0);
    EXPECT_EQ(folder.read("share.jsonl"), whole);
    // A share of something else is not touched.
    const ProgramResult other = run_program(quick({kLowRiser}, {"--shard", "1/2", "--out", file}));
    EXPECT_EQ(other.exit_code, 2);
    EXPECT_TRUE(has(other.standard_error, "--force")) << other.standard_error;
    folder.write("mine.txt", "precious\n");
    const ProgramResult foreign =
        run_program(quick({kLowRiser}, {"--shard", "1/2", "--out", folder.path() + "/mine.txt"}));
    EXPECT_EQ(foreign.exit_code, 2);
    EXPECT_EQ(folder.read("mine.txt"), "precious\n");
}

TEST(TradeProgram, AShareThatAnotherRunWritesIsRefusedByName) {
    const TemporaryFolder folder;
    const std::string file = folder.write("share.jsonl", "");
    const auto call = quick({kLowRiser}, {"--shard", "1/8", "--out", file});
    const int other = open(file.c_str(), O_WRONLY | O_APPEND | O_CLOEXEC);
    ASSERT_GE(other, 0);
    ASSERT_EQ(flock(other, LOCK_EX), 0);
    const ProgramResult refused = run_program(call);
    EXPECT_EQ(refused.exit_code, 2);
    EXPECT_TRUE(has(refused.standard_error, file + ": another run is writing to it"))
        << refused.standard_error;
    EXPECT_EQ(folder.read("share.jsonl"), "");
    close(other);
    EXPECT_EQ(run_program(call).exit_code, 0);
}

TEST(TradeProgram, APayloadThatIsNoTradeIsRefusedWithFileAndLine) {
    const TemporaryFolder folder;
    const std::string file = folder.path() + "/share.jsonl";
    ASSERT_EQ(run_program(quick({kLowRiser}, {"--shard", "1/1", "--out", file})).exit_code, 0);
    const std::string whole = folder.read("share.jsonl");
    const auto refusal_with = [&](const std::string& from, const std::string& to) {
        std::string text = whole;
        const std::size_t second = text.find('\n') + 1, at = text.find(from, second);
        if (at == std::string::npos) return from + " is not there";
        folder.write("share.jsonl", text.replace(at, from.size(), to));
        const ProgramResult result = run_program({"trade", "--merge", file});
        EXPECT_EQ(result.exit_code, 2) << from;
        return result.standard_error;
    };
    for (const auto& [from, to] : std::vector<std::pair<std::string, std::string>>{
             {"\"worst\":0", "\"worst\":7"},
             {"\"reasons\":[", "\"reasons\":[99,"},
             {"\"speeds\":[", "\"speeds\":[{\"radians_per_second\":1},"},
             {"\"passes\":[", "\"passes\":[],\"other\":["}}) {
        const std::string refusal = refusal_with(from, to);
        // The shape is held against the first option, so that the third line may be the odd one.
        EXPECT_TRUE(has(refusal, file + ":2: ") || has(refusal, file + ":3: ")) << refusal;
    }
}

TEST(TradeProgram, CtrlCLeavesWholeLines) {
    const TemporaryFolder folder;
    const std::string file = folder.path() + "/share.jsonl";
    std::vector<std::string> words = quick({kLowRiser}, {"--shard", "1/1", "--out", file});
    words.insert(words.begin(), STANDFAST_PROGRAM);
    const pid_t child = fork();
    ASSERT_GE(child, 0);
    if (child == 0) {
        std::vector<char*> argv;
        for (std::string& word : words) argv.push_back(word.data());
        argv.push_back(nullptr);
        execv(argv.front(), argv.data());
        _exit(127);
    }
    // Once the first line is there; if it never comes the wait below tells.
    for (int i = 0; i < 3000 && !has(folder.read("share.jsonl"), "\n"); ++i)
        std::this_thread::sleep_for(std::chrono::milliseconds(10));
    kill(child, SIGINT);
    int status = 0;
    waitpid(child, &status, 0);
    ASSERT_TRUE(WIFEXITED(status));
    EXPECT_TRUE(WEXITSTATUS(status) == 130 || WEXITSTATUS(status) == 0);
    const std::string lines = folder.read("share.jsonl");
    ASSERT_FALSE(lines.empty());
    EXPECT_EQ(lines.back(), '\n');
}

TEST(TradeProgram, SharesByGnuParallelAreTheSingleRun) {
    if (std::system("parallel --version 2>/dev/null | grep -q 'GNU parallel'") != 0)
        GTEST_SKIP() << "GNU parallel is not installed";
    const TemporaryFolder folder;
    const std::string command = "cd " + folder.path() + " && parallel --will-cite -j2 " +
                                STANDFAST_PROGRAM + " trade " + kLowRiser +
                                " --method zero-order --draws 0 --shard {}/4 --out share-{}.jsonl"
                                " ::: 1 2 3 4 > /dev/null 2>&1";
    ASSERT_EQ(std::system(command.c_str()), 0);
    std::vector<std::string> merge{"trade", "--json", "--merge"};
    for (int k = 1; k <= 4; ++k)
        merge.push_back(folder.path() + "/share-" + std::to_string(k) + ".jsonl");
    EXPECT_EQ(run_program(merge).standard_output,
              run_program(quick({kLowRiser}, {"--json"})).standard_output);
}

TEST(TradeProgram, SharesOfCheckAreTheSingleRun) {
    const TemporaryFolder folder;
    const std::vector<std::string> jobs{kShortest, kExamples + "09-measured-modes/job.toml",
                                        kLowRiser};
    std::vector<std::string> merge{"check", "--merge"};
    for (const std::string k : {"1", "2"}) {
        std::vector<std::string> call{"check", "--shard", k + "/2", "--speeds", "3000 9000 rpm"};
        call.insert(call.end(), jobs.begin(), jobs.end());
        const ProgramResult share = run_program(call);
        ASSERT_EQ(share.exit_code, 0) << share.standard_error;
        merge.push_back(folder.write("share-" + k, share.standard_output));
    }
    std::vector<std::string> single{"check", "--json", "--speeds", "3000 9000 rpm"};
    single.insert(single.end(), jobs.begin(), jobs.end());
    EXPECT_EQ(run_program(merge).standard_output, run_program(single).standard_output);
}

/// The shortest job with a receptance measured at its riser.
std::string measured_job() {
    return R"(
[machine]
kind = "5-axis, table tilts"
taper = "BT40"
speed = ["500 rpm", "12000 rpm"]
[[tier]]
name = "riser"
material = "steel"
round = "4 in"
height = "6 in"
[[tier]]
name = "part"
material = "6061"
block = ["2.75 in", "2 in"]
height = "3.75 in"
joint = { kind = "dovetail", width = "1.25 in" }
[[tool]]
cutter = { diameter = "3/8 in", teeth = 3, stickout = "2.25 in" }
[[pass]]
radial = "0.010 in"
axial = "0.5 in"
feed = "0.0024 in"
speed = "9000 rpm"
[[measured]]
kind = "receptance"
where = "stack"
tier = "riser"
at = ["2 in", "0 in", "5 in"]
direction = "x"
file = "riser.csv"
)";
}

TEST(TradeProgram, SharesThatReadOtherMeasurementsDoNotMerge) {
    const TemporaryFolder one, other;
    const std::string frequencies = "frequency_hz,re,im\n100,1e-8,-1e-9\n200,1.1e-8,-1e-9\n";
    one.write("riser.csv", frequencies + "300,1.2e-8,-1e-9\n");
    other.write("riser.csv", frequencies + "300,1.3e-8,-1e-9\n");
    for (const std::string command : {"check", "trade"}) {
        const auto share = [&](const TemporaryFolder& folder, const std::string& k) {
            const std::string job = folder.write("job.toml", measured_job());
            const std::string file = folder.path() + "/" + command + k + ".jsonl";
            const ProgramResult result =
                run_program({command, job, job, "--method", "zero-order", "--draws", "0", "--shard",
                             k + "/2", "--out", file});
            EXPECT_EQ(result.exit_code, 0) << result.standard_error;
            return file;
        };
        const std::string first = share(one, "1"), second = share(one, "2");
        const std::string foreign = share(other, "2");
        EXPECT_EQ(run_program({command, "--merge", first, second}).exit_code, 0);
        const ProgramResult mixed = run_program({command, "--merge", first, foreign});
        EXPECT_EQ(mixed.exit_code, 2);
        EXPECT_TRUE(has(mixed.standard_error, "measurements")) << mixed.standard_error;
    }
}

TEST(TradeProgram, CsvHoldsTheGridAndTheOptions) {
    const TemporaryFolder folder;
    const std::string out = folder.path() + "/csv";
    const ProgramResult result = run_program(quick({kLowRiser}, {"--csv", out, "--every-speed"}));
    ASSERT_EQ(result.exit_code, 0) << result.standard_error;
    const std::string grid = folder.read("csv/trade-grid.csv");
    EXPECT_TRUE(grid.starts_with("option,hold,height_m,pass,tool,stickout_m,clear,limit_m"));
    EXPECT_GT(std::count(grid.begin(), grid.end(), '\n'), 7 * 5);
    EXPECT_TRUE(folder.has("csv/trade-options.csv"));
    const std::string limits = folder.read("csv/trade-limits.csv");
    EXPECT_GT(std::count(limits.begin(), limits.end(), '\n'), 7 * 5 * 60);
}

TEST(TradeProgram, EveryRowOfACsvHasTheFieldsOfItsHeading) {
    const TemporaryFolder folder;
    const std::string out = folder.path() + "/csv";
    const ProgramResult result = run_program({"trade", kLowRiser, "--csv", out, "--draws", "8"});
    ASSERT_EQ(result.exit_code, 0) << result.standard_error;
    for (const char* name : {"csv/trade-grid.csv", "csv/trade-options.csv"}) {
        std::istringstream lines(folder.read(name));
        std::string line;
        std::getline(lines, line);
        const auto commas = std::count(line.begin(), line.end(), ',');
        while (std::getline(lines, line)) {
            // Names and reasons of this job hold no commas.
            EXPECT_EQ(std::count(line.begin(), line.end(), ','), commas) << name << ": " << line;
        }
    }
}

TEST(TradeProgram, SharesByTheDelayEquationMergeToTheSingleRunToo) {
    const TemporaryFolder folder;
    const std::vector<std::string> single = {"trade", kLowRiser, "--json", "--draws", "8"};
    std::vector<std::string> merge = {"trade", "--json", "--merge"};
    for (int share = 1; share <= 3; ++share) {
        const std::string file = folder.path() + "/" + std::to_string(share) + ".jsonl";
        const ProgramResult part = run_program({"trade", kLowRiser, "--draws", "8", "--shard",
                                                std::to_string(share) + "/3", "--out", file});
        ASSERT_EQ(part.exit_code, 0) << part.standard_error;
        merge.push_back(file);
    }
    EXPECT_EQ(run_program(merge).standard_output, run_program(single).standard_output);
}

struct BadTrade {
    std::string name, table, expected;
};

class BadTrades : public testing::TestWithParam<BadTrade> {};

TEST_P(BadTrades, AreAnsweredWithWhatIsAccepted) {
    const TemporaryFolder folder;
    const std::string job = R"(
[machine]
kind = "5-axis, table tilts"
taper = "BT40"
speed = ["500 rpm", "12000 rpm"]
[[tier]]
name = "riser"
material = "steel"
round = "4 in"
height = "6 in"
[[tier]]
name = "part"
material = "6061"
block = ["2.75 in", "2 in"]
height = "3.75 in"
joint = { kind = "dovetail", width = "1.25 in" }
[[tool]]
cutter = { diameter = "3/8 in", teeth = 3, stickout = "2.25 in" }
[[pass]]
radial = "0.010 in"
axial = "0.5 in"
feed = "0.0024 in"
speed = "9000 rpm"
)";
    folder.write("job.toml", job + GetParam().table);
    const ProgramResult result =
        run_program(ProgramCall{.arguments = quick({"job.toml"}), .folder = folder.path()});
    EXPECT_EQ(result.exit_code, 2);
    EXPECT_EQ(result.standard_output, "");
    EXPECT_TRUE(has(result.standard_error, GetParam().expected)) << result.standard_error;
}

std::vector<BadTrade> bad_trades() {
    return {
        {"EmptyHeights", "[trade]\nheights = []\n", "a list of 1 to 200"},
        {"EmptyRisers", "[trade]\nrisers = []\n", "names from the shelf"},
        {"EmptyShelf", "[trade]\nrisers = [\"tall\"]\n", "the shelf is empty"},
        {"UnknownRiser",
         "[trade]\nrisers = [\"tal\"]\n[[riser]]\nname = \"tall\"\nmaterial = "
         "\"steel\"\nround = \"80 mm\"\nheight = \"200 mm\"\n",
         "did you mean \"tall\"?"},
        {"UnknownTier", "[trade]\ntier = \"riesr\"\n", "did you mean \"riser\"?"},
        {"BackwardSteps", "[trade]\nheights = \"200 mm to 100 mm by 10 mm\"\n",
         "the first is above the last"},
        {"BareSteps", "[trade]\nheights = \"100 to 200 by 10\"\n", "mm"},
        {"NoSteps", "[trade]\nheights = \"100 mm\"\n", "or steps"},
        {"UnknownKey", "[trade]\nheigths = [\"100 mm\"]\n", "did you mean \"heights\"?"},
        {"UnknownTool", "[trade]\nstickouts = { \"no tool\" = [\"40 mm\"] }\n", "unknown key"},
        {"UnknownPassOfTilts", "[trade]\ntilts = { \"no pass\" = [\"5 deg\"] }\n", "unknown key"},
        {"TiltWithoutUnit", "[trade]\ntilts = { \"pass 1\" = [5] }\n", "deg"},
        {"UnknownHolder", "[trade]\nholders = { \"tool 1\" = [\"slim\"] }\n", "the shelf is empty"},
        {"HolderWithoutSteps", "[[holder]]\nname = \"slim\"\n", "steps"},
        {"UnknownMaterial", "[trade]\nmaterials = [\"stel\"]\n", "did you mean"},
        {"IdleHold", "[[trade.hold]]\nname = \"other\"\ntier = \"part\"\n", "changes nothing"},
        {"TiltBeyondTheMachine",
         "[[pass]]\ntilt = \"170 deg\"\nradial = \"1 mm\"\naxial = \"1 mm\"\nfeed = "
         "\"0.05 mm\"\nfeed_heading = \"0 deg\"\nname = \"tilted\"\n",
         "tilt"}};
}

INSTANTIATE_TEST_SUITE_P(Trade, BadTrades, testing::ValuesIn(bad_trades()),
                         [](const auto& bad) { return bad.param.name; });

TEST(TradeProgram, AStackWithoutTiersHasNoRiserToTrade) {
    const ProgramResult result = run_program(quick({kExamples + "09-measured-modes/job.toml"}));
    EXPECT_EQ(result.exit_code, 2);
    EXPECT_TRUE(has(result.standard_error, "no riser to trade")) << result.standard_error;
}

TEST(TradeProgram, OptionsThatDoNotGoTogetherAreRefused) {
    for (const auto& more : std::vector<std::vector<std::string>>{
             {"--shard", "1/2", "--merge"}, {"--out", "lines.jsonl"}, {"--shard", "3/2"}}) {
        const ProgramResult result = run_program(quick({kLowRiser}, more));
        EXPECT_EQ(result.exit_code, 2);
        EXPECT_EQ(result.standard_output, "");
    }
    EXPECT_EQ(run_program({"trade"}).exit_code, 2);
    EXPECT_EQ(run_program({"trade", "--merge"}).exit_code, 2);
}

TEST(TradeProgram, ProgressTellsCountShareAndTimeLeftOnATerminalOnly) {
    ProgramCall call{
        .arguments = quick({kLowRiser}), .environment = {"TERM=xterm"}, .terminal_columns = 100};
    const std::string shown = run_program(call).standard_output;
    EXPECT_TRUE(has(shown, "7 of 7, 86 %, about"));
    EXPECT_TRUE(has(shown, "\x1b[K"));
    EXPECT_EQ(run_program(quick({kLowRiser})).standard_error, "");
}

}  // namespace
}  // namespace standfast
