// What goes wrong on a shop's own computer: files in the wrong place, folders for files, names that
// begin with a dash, sizes that are none.
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <iterator>

#include "tests/support/run_program.hpp"

namespace standfast {
namespace {

namespace fs = std::filesystem;
using tests::ProgramCall;
using tests::ProgramResult;
using tests::run_program;
using tests::TemporaryFolder;

bool has(const std::string& text, const std::string& part) {
    return text.find(part) != std::string::npos;
}

std::string shortest_job() {
    std::ifstream stream(STANDFAST_SOURCE_DIR "/examples/01-shortest-job/job.toml");
    return {std::istreambuf_iterator<char>(stream), {}};
}

std::string replaced(std::string text, const std::string& old, const std::string& fresh) {
    const std::size_t at = text.find(old);
    EXPECT_NE(at, std::string::npos) << old;
    return text.replace(at, old.size(), fresh);
}

/// Quick settings, so that a test of files does not wait for figures.
ProgramResult quick(const TemporaryFolder& folder, std::vector<std::string> arguments) {
    arguments.insert(arguments.end(),
                     {"--method", "zero-order", "--draws", "0", "--speeds", "9000 rpm"});
    return run_program(ProgramCall{.arguments = arguments, .folder = folder.path()});
}

ProgramResult in(const TemporaryFolder& folder, const std::vector<std::string>& arguments) {
    return run_program(ProgramCall{.arguments = arguments, .folder = folder.path()});
}

TEST(Force, NeverOverwritesWhatTheCommandReads) {
    const TemporaryFolder folder;
    const std::string job = shortest_job();
    const std::string shop = "[machine]\npower = \"12 kW\"\n";
    folder.write("shop.toml", shop);
    folder.write("job.toml", "use = [\"shop.toml\"]\n" + job);
    fs::create_symlink("job.toml", folder.path() + "/link.toml");
    const std::vector<std::vector<std::string>> calls{
        {"check", "job.toml", "--report", "job.toml", "--force"},
        {"check", "job.toml", "--report", "./sub/../job.toml", "--force"},
        {"check", "link.toml", "--report", "job.toml", "--force"},
        {"check", "job.toml", "--report", "link.toml", "--force"},
        {"check", "job.toml", "--report", "shop.toml", "--force"},
        {"check", "job.toml", "--shard", "1/1", "--out", "job.toml", "--force"},
        {"trade", "job.toml", "--shard", "1/1", "--out", "shop.toml", "--force"},
        {"fit", "job.toml", "--save", "job.toml", "--force"}};
    for (const auto& call : calls) {
        const ProgramResult result = in(folder, call);
        EXPECT_EQ(result.exit_code, 2) << testing::PrintToString(call);
        EXPECT_TRUE(has(result.standard_error, "is read by this command"))
            << testing::PrintToString(call) << result.standard_error;
        EXPECT_EQ(folder.read("job.toml"), "use = [\"shop.toml\"]\n" + job);
        EXPECT_EQ(folder.read("shop.toml"), shop);
    }
}

TEST(CommandLine, TwoDashesEndTheOptions) {
    const TemporaryFolder folder;
    folder.write("-odd.toml", shortest_job());
    const ProgramResult result =
        run_program(ProgramCall{.arguments = {"check", "--method", "zero-order", "--draws", "0",
                                              "--speeds", "9000 rpm", "--quiet", "--", "-odd.toml"},
                                .folder = folder.path()});
    EXPECT_EQ(result.exit_code, 0) << result.standard_error;
    const ProgramResult missing = in(folder, {"check", "--", "--json"});
    EXPECT_EQ(missing.exit_code, 2);
    EXPECT_TRUE(has(missing.standard_error, "--json: error: there is no such file"))
        << missing.standard_error;
    EXPECT_EQ(in(folder, {"new", "--", "-new.toml"}).exit_code, 0);
    EXPECT_TRUE(folder.has("-new.toml"));
}

TEST(Use, OfAFileThatIsNoJobShowsWhereAndWhyButNothingOfIt) {
    const TemporaryFolder folder;
    const std::vector<std::pair<std::string, std::string>> files{
        {"accounts.txt", "alice:secret:1000\nbob:hunter2:1001\n"},
        {"other.toml", "[secrets]\ntoken = \"hunter2\"\n"},
        {"key.pem", "-----BEGIN-----\nhunter2 secret\n-----END-----\n"},
        {"blob.bin", std::string("\x7f\x45\0secret hunter2", 17)}};
    for (const auto& [name, text] : files) {
        folder.write(name, text);
        folder.write("job.toml", "use = [\"" + name + "\"]\n" + shortest_job());
        const ProgramResult result = in(folder, {"check", "job.toml"});
        EXPECT_EQ(result.exit_code, 2) << name;
        EXPECT_TRUE(has(result.standard_error, name)) << result.standard_error;
        EXPECT_TRUE(has(result.standard_error, "is no file of a job")) << result.standard_error;
        EXPECT_FALSE(has(result.standard_error, "hunter2")) << result.standard_error;
        EXPECT_FALSE(has(result.standard_error, "secret:")) << result.standard_error;
    }
}

TEST(Use, OfAJobFileWithASlipStillShowsTheLine) {
    const TemporaryFolder folder;
    folder.write("mill.toml", "[machine]\npower = 12 kW\n");
    folder.write("job.toml", "use = [\"mill.toml\"]\n" + shortest_job());
    const ProgramResult result = in(folder, {"check", "job.toml"});
    EXPECT_EQ(result.exit_code, 2);
    EXPECT_TRUE(has(result.standard_error, "mill.toml:2:9")) << result.standard_error;
    EXPECT_TRUE(has(result.standard_error, "power = 12 kW")) << result.standard_error;
}

TEST(Folders, InThePlaceOfFilesAreNamedAndNothingIsComputed) {
    const TemporaryFolder folder;
    folder.write("job.toml", shortest_job());
    folder.write("a file", "mine");
    fs::create_directory(folder.path() + "/d");
    const std::vector<std::vector<std::string>> calls{
        {"check", "d"},
        {"check", "job.toml", "--with", "d"},
        {"check", "job.toml", "--materials", "d"},
        {"check", "job.toml", "--report", "d"},
        {"check", "job.toml", "--report", "d", "--force"},
        {"check", "job.toml", "--report", "missing/page.html"},
        {"check", "job.toml", "--csv", "a file"},
        {"check", "job.toml", "--csv", "a file/under"},
        {"check", "job.toml", "--shard", "1/1", "--out", "d"},
        {"check", "--merge", "d"},
        {"trade", "--merge", "d"},
        {"explain", "job.toml", "--sound", "d"},
        {"fit", "job.toml", "--save", "d"},
        {"fit", "--tap", "d"},
        {"fit", "d"},
        {"materials", "--materials", "d"},
        {"new", "d/"},
        {"new", "--from", "d"}};
    for (const auto& call : calls) {
        const ProgramResult result = in(folder, call);
        EXPECT_EQ(result.exit_code, 2) << testing::PrintToString(call) << result.standard_error;
        EXPECT_EQ(result.standard_output, "") << testing::PrintToString(call);
        EXPECT_FALSE(has(result.standard_error, "exception")) << result.standard_error;
        EXPECT_FALSE(has(result.standard_error, "filesystem error")) << result.standard_error;
    }
    EXPECT_EQ(folder.read("a file"), "mine");
}

TEST(AbsurdSizes, AreRefusedAtTheirLineAndNotDeepInTheSolver) {
    const std::string job = shortest_job();
    const std::vector<std::pair<std::string, std::string>> slips{
        {"height = \"6 in\"", "height = \"1 um\""},
        {"round = \"4 in\"", "round = \"1 um\""},
        {"block = [\"2.75 in\", \"2 in\"]", "block = [\"1 um\", \"2 in\"]"},
        {"height = \"3.75 in\"", "height = \"0.001 um\""},
        {"diameter = \"3/8 in\"", "diameter = \"1 um\""},
        {"stickout = \"2.25 in\"", "stickout = \"1 um\""},
        {"axial = \"0.5 in\"", "axial = \"0.0001 um\""},
        {"radial = \"0.010 in\"", "radial = \"0.0001 um\""}};
    for (const auto& [old, fresh] : slips) {
        const TemporaryFolder folder;
        folder.write("job.toml", replaced(job, old, fresh));
        const ProgramResult result = quick(folder, {"check", "job.toml"});
        EXPECT_EQ(result.exit_code, 2) << fresh << result.standard_error;
        EXPECT_TRUE(result.standard_error.starts_with("job.toml:")) << result.standard_error;
        EXPECT_TRUE(has(result.standard_error, "accepted:")) << result.standard_error;
    }
}

}  // namespace
}  // namespace standfast
