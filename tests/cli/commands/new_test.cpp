// `standfast new` and `standfast schema` as a person at the machine would try them.
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "tests/support/run_program.hpp"

namespace standfast {
namespace {

using tests::ProgramCall;
using tests::ProgramResult;
using tests::run_program;
using tests::TemporaryFolder;

bool has(const std::string& text, const std::string& part) {
    return text.find(part) != std::string::npos;
}

ProgramResult in(const TemporaryFolder& folder, const std::vector<std::string>& arguments) {
    return run_program(ProgramCall{.arguments = arguments, .folder = folder.path()});
}

TEST(New, WritesTheKindThatIsNamedInEitherOrder) {
    const TemporaryFolder folder;
    EXPECT_EQ(in(folder, {"new", "vise"}).exit_code, 0);
    EXPECT_TRUE(has(folder.read("job.toml"), "kind = \"vice\""));
    EXPECT_EQ(in(folder, {"new", "tower.toml", "tower"}).exit_code, 0);
    EXPECT_TRUE(has(folder.read("tower.toml"), "sides of a tower"));
    EXPECT_TRUE(has(in(folder, {"new", "pyramid", "-"}).standard_output, "pyramid"));
    EXPECT_TRUE(has(in(folder, {"new", "-", "--units", "inch"}).standard_output, "4 in"));
}

TEST(New, AMisspeltKindIsToldTheNearestAndAllOfThem) {
    const TemporaryFolder folder;
    const ProgramResult result = in(folder, {"new", "piramid"});
    EXPECT_EQ(result.exit_code, 2);
    EXPECT_TRUE(has(result.standard_error, "did you mean \"pyramid\"")) << result.standard_error;
    EXPECT_TRUE(has(result.standard_error, "measured-modes")) << result.standard_error;
    EXPECT_FALSE(folder.has("piramid"));
    EXPECT_EQ(in(folder, {"new", "vice", "tower"}).exit_code, 2);
    EXPECT_EQ(in(folder, {"new", "a.toml", "b.toml"}).exit_code, 2);
    EXPECT_EQ(in(folder, {"new", "vice", "a.toml", "b.toml"}).exit_code, 2);
}

constexpr const char* kProgram =
    "G21 G90\n(12 MM)\nT1 M6\nS6000 M3\nG0 Z5.\nG1 Z-4. F300\nX40. F1200\nG81 X1. Z-9. R1. "
    "F90\nM30\n";

TEST(New, AProgramBecomesPassesAndWhatItDoesNotSayIsCounted) {
    const TemporaryFolder folder;
    folder.write("part.nc", kProgram);
    const ProgramResult made = in(folder, {"new", "vice", "--from", "part.nc", "part.toml"});
    EXPECT_EQ(made.exit_code, 0) << made.standard_error;
    EXPECT_TRUE(has(made.standard_output, "1 tool and 1 pass")) << made.standard_output;
    const std::string job = folder.read("part.toml");
    EXPECT_TRUE(has(job, "speed = \"6000 rpm\"")) << job;
    EXPECT_TRUE(has(job, "FILL IN: radial")) << job;
    EXPECT_TRUE(has(job, "# Not taken from part.nc:")) << job;
    EXPECT_TRUE(has(job, "line 8: drilling")) << job;
    EXPECT_EQ(in(folder, {"check", "part.toml"}).exit_code, 2) << "blanks are no answers";
}

TEST(New, AProgramThatIsNoneIsRefused) {
    const TemporaryFolder folder;
    folder.write("empty.nc", "");
    folder.write("photo.nc", std::string("\x89PNG\r\n\0\1\2", 9));
    for (const std::string name : {"empty.nc", "photo.nc", "missing.nc", "."}) {
        const ProgramResult result = in(folder, {"new", "--from", name});
        EXPECT_EQ(result.exit_code, 2) << name;
        EXPECT_TRUE(has(result.standard_error, name)) << result.standard_error;
        EXPECT_FALSE(folder.has("job.toml")) << name;
    }
}

TEST(New, TheProgramItselfIsNeverOverwritten) {
    const TemporaryFolder folder;
    folder.write("part.nc", kProgram);
    EXPECT_EQ(in(folder, {"new", "--from", "part.nc", "./part.nc", "--force"}).exit_code, 2);
    EXPECT_EQ(folder.read("part.nc"), kProgram);
}

TEST(Schema, IsOneDocumentOnStandardOutput) {
    const ProgramResult result = run_program({"schema"});
    EXPECT_EQ(result.exit_code, 0);
    EXPECT_EQ(nlohmann::json::parse(result.standard_output)["properties"]["pass"]["type"], "array");
    EXPECT_EQ(run_program({"schema", "job.toml"}).exit_code, 2);
}

}  // namespace
}  // namespace standfast
