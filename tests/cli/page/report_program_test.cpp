// The program with --report on every example: the file alone, without a browser.
#include <gtest/gtest.h>

#include <filesystem>

#include "tests/cli/page/page_reader.hpp"
#include "tests/support/run_program.hpp"

namespace standfast {
namespace {

namespace fs = std::filesystem;
using tests::ProgramResult;
using tests::run_program;
using tests::TemporaryFolder;

void expect_a_sound_page(const std::string& page, const std::string& name, std::size_t most_bytes) {
    EXPECT_TRUE(page.starts_with("<!doctype html>")) << name;
    EXPECT_LT(page.size(), most_bytes) << name;
    const std::string own = tests::own_part(page);
    EXPECT_EQ(tests::unbalanced(own), "") << name;
    for (const char* outside :
         {"http:", "https:", "src=", "href=", "url(//", "@import", "fetch("}) {
        EXPECT_EQ(own.find(outside), std::string::npos) << name << ": " << outside;
    }
    EXPECT_EQ(own.find("<td>nan"), std::string::npos) << name;
    const nlohmann::json charts = tests::payload_of(page).at("charts");
    for (const nlohmann::json& chart : charts) {
        EXPECT_FALSE(tests::table_of(page, chart.at("id")).empty()) << name << chart.at("title");
    }
    EXPECT_NE(page.find("Permission is hereby granted"), std::string::npos) << name;
    EXPECT_NE(page.find("qualified person"), std::string::npos) << name;
}

TEST(Report, EveryExampleHasItsPage) {
    const TemporaryFolder folder;
    for (const auto& entry : fs::directory_iterator(STANDFAST_SOURCE_DIR "/examples")) {
        if (!entry.is_directory()) continue;
        const std::string name = entry.path().filename().string();
        const std::string page = folder.path() + "/" + name + ".html";
        const ProgramResult result =
            run_program({"check", (entry.path() / "job.toml").string(), "--draws", "8", "--method",
                         "zero-order", "--report", page});
        ASSERT_EQ(result.exit_code, 0) << name << result.standard_error;
        expect_a_sound_page(folder.read(name + ".html"), name, 540'000);
    }
}

TEST(Report, FitAndExplainHaveTheirPages) {
    const TemporaryFolder folder;
    const std::string examples = STANDFAST_SOURCE_DIR "/examples/";
    const std::string fit = folder.path() + "/fit.html";
    ASSERT_EQ(run_program({"fit", examples + "16-push-test/job.toml", "--report", fit}).exit_code,
              0);
    expect_a_sound_page(folder.read("fit.html"), "fit", 400'000);
    const std::string explain = folder.path() + "/explain.html";
    ASSERT_EQ(run_program({"explain", examples + "15-bad-surface-to-cure/job.toml", "--sound",
                           examples + "15-bad-surface-to-cure/cut.flac", "--report", explain})
                  .exit_code,
              0);
    expect_a_sound_page(folder.read("explain.html"), "explain", 400'000);
}

TEST(Report, OverwritesItsOwnPageAndNothingElse) {
    const TemporaryFolder folder;
    const std::string job = STANDFAST_SOURCE_DIR "/examples/01-shortest-job/job.toml";
    const std::string page = folder.path() + "/page.html";
    const std::vector<std::string> call = {"check",    job,        "--draws",  "0",
                                           "--speeds", "9000 rpm", "--report", page};
    ASSERT_EQ(run_program(call).exit_code, 0);
    EXPECT_EQ(run_program(call).exit_code, 0);
    folder.write("page.html", folder.read("page.html") + "a note of mine");
    const ProgramResult refused = run_program(call);
    EXPECT_EQ(refused.exit_code, 2);
    EXPECT_NE(refused.standard_error.find("--force"), std::string::npos);
    EXPECT_NE(folder.read("page.html").find("a note of mine"), std::string::npos);
    EXPECT_EQ(run_program({"check", job, "--report", folder.path()}).exit_code, 2);
}

}  // namespace
}  // namespace standfast
