// Every example runs, and its README shows what the program really prints. With
// STANDFAST_UPDATE_GOLDEN=1 the READMEs are written anew instead, to be read in review.
#include <gtest/gtest.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <regex>
#include <sstream>
#include <string>
#include <utility>
#include <vector>

#include "tests/support/run_program.hpp"

namespace standfast::tests {
namespace {

namespace fs = std::filesystem;

std::vector<fs::path> examples() {
    std::vector<fs::path> folders;
    for (const auto& entry : fs::directory_iterator(fs::path(STANDFAST_SOURCE_DIR) / "examples")) {
        if (entry.is_directory()) folders.push_back(entry.path());
    }
    std::sort(folders.begin(), folders.end());
    return folders;
}

std::string text_of(const fs::path& file) {
    std::ifstream stream(file, std::ios::binary);
    return {std::istreambuf_iterator<char>(stream), {}};
}

/// "$ standfast check examples/... --pass "a name"" -> the words after the program's name, quotes
/// taken off.
std::vector<std::string> words_of(const std::string& line) {
    std::vector<std::string> words;
    std::string word;
    bool quoted = false, any = false;
    for (const char c : line + " ") {
        if (c == '"') {
            quoted = !quoted;
            any = true;
        } else if (c != ' ' || quoted) {
            word += c;
            any = true;
        } else if (any) {
            words.push_back(std::exchange(word, {}));
            any = false;
        }
    }
    if (words.size() < 2 || words[0] != "$" || words[1] != "standfast") return {};
    return {words.begin() + 2, words.end()};
}

/// A README with what its commands really print in the blocks that begin with "$ standfast".
std::string with_real_output(const std::string& readme, int& commands) {
    std::istringstream stream(readme);
    std::ostringstream fresh;
    std::string line;
    bool in_block = false, replaced = false;
    while (std::getline(stream, line)) {
        if (line.starts_with("```")) {
            in_block = !in_block;
            replaced = false;
        } else if (in_block && line.starts_with("$ standfast")) {
            const ProgramResult run =
                run_program({.arguments = words_of(line), .folder = STANDFAST_SOURCE_DIR});
            EXPECT_EQ(run.exit_code, 0) << line << "\n" << run.standard_error;
            fresh << line << "\n" << run.standard_output;
            replaced = true;
            ++commands;
            continue;
        } else if (in_block && replaced) {
            continue;
        }
        fresh << line << "\n";
    }
    return fresh.str();
}

TEST(Examples, ReadmesShowWhatTheProgramPrints) {
    const bool update = std::getenv("STANDFAST_UPDATE_GOLDEN") != nullptr;
    std::vector<fs::path> readmes{fs::path(STANDFAST_SOURCE_DIR) / "README.md"};
    for (const fs::path& folder : examples()) readmes.push_back(folder / "README.md");
    for (const fs::path& readme : readmes) {
        const std::string shown = text_of(readme);
        int commands = 0;
        const std::string real = with_real_output(shown, commands);
        EXPECT_GE(commands, 1) << readme << " shows no command";
        if (update) {
            std::ofstream(readme, std::ios::binary) << real;
        } else {
            EXPECT_EQ(shown, real) << readme;
        }
    }
}

TEST(Examples, ThereAreAtLeastEightAndEachSaysThatItIsInvented) {
    EXPECT_GE(examples().size(), 8U);
    for (const fs::path& folder : examples()) {
        const std::string job = text_of(folder / "job.toml");
        EXPECT_NE(job.find("nvented"), std::string::npos) << folder;
        EXPECT_NE(job.find("standfast check examples/"), std::string::npos)
            << folder << " does not begin with the command that runs it";
    }
}

TEST(Examples, RunInInchesAsInMillimetres) {
    for (const fs::path& folder : examples()) {
        const ProgramResult run =
            run_program({"check", (folder / "job.toml").string(), "--units", "inch", "--quiet",
                         "--method", "zero-order", "--draws", "0"});
        EXPECT_EQ(run.exit_code, 0) << folder << "\n" << run.standard_error;
        EXPECT_FALSE(std::regex_search(run.standard_output, std::regex("\\b(nan|inf)\\b")))
            << folder << "\n"
            << run.standard_output;
    }
}

}  // namespace
}  // namespace standfast::tests
