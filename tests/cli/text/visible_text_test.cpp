#include "cli/text/visible_text.hpp"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "tests/support/run_program.hpp"

namespace standfast {
namespace {

using tests::ProgramResult;
using tests::run_program;
using tests::TemporaryFolder;

/// Directional formatting characters of Unicode Standard Annex 9 (table 3 and section 2; from
/// memory), an escape sequence, C1's CSI, a zero-width space, a soft hyphen, a tag.
const std::vector<std::string> kHostile = {"\x1b[31m",
                                           "\x07",
                                           "\x7f",
                                           "\xC2\x9B"
                                           "2J",
                                           "\xE2\x80\xAE",
                                           "\xE2\x81\xA6",
                                           "\xE2\x80\x8F",
                                           "\xD8\x9C",
                                           "\xE2\x80\x8B",
                                           "\xC2\xAD",
                                           "\xEF\xBB\xBF",
                                           "\xF3\xA0\x80\xA1"};

bool holds_any(const std::string& text) {
    for (const std::string& bytes : kHostile) {
        if (text.find(bytes) != std::string::npos) return true;
    }
    return false;
}

std::string all_hostile() {
    std::string all = "a";
    for (const std::string& bytes : kHostile) all += bytes + "b";
    return all;
}

TEST(VisibleText, LettersOfAnyScriptStay) {
    const std::string text = "Käfig Größe 部品 деталь ½ µm \"quoted\" \\ back";
    EXPECT_EQ(visible_text(text), text);
}

TEST(VisibleText, WhatATerminalObeysOrHidesStandsAsItsCodePoint) {
    EXPECT_EQ(visible_text("a\x1b[31mb"), "a\\u{1B}[31mb");
    EXPECT_EQ(visible_text("\xE2\x80\xAEgpj.exe"), "\\u{202E}gpj.exe");
    EXPECT_EQ(visible_text("\xC2\x9B"), "\\u{9B}");
    EXPECT_EQ(visible_text("\xF3\xA0\x80\xA1"), "\\u{E0021}");
    EXPECT_EQ(visible_text("two\nlines"), "two\\u{A}lines");
    EXPECT_EQ(visible_lines("two\nlines"), "two\nlines");
    EXPECT_FALSE(holds_any(visible_text(all_hostile())));
    EXPECT_FALSE(holds_any(visible_lines(all_hostile())));
}

TEST(VisibleText, BytesThatAreNoUtf8AreShownEach) {
    EXPECT_EQ(visible_text("\xFF"), "\\x{FF}");
    EXPECT_EQ(visible_text("\xC0\x80"), "\\x{C0}\\x{80}");             // overlong
    EXPECT_EQ(visible_text("\xED\xA0\x80"), "\\x{ED}\\x{A0}\\x{80}");  // surrogate
    EXPECT_EQ(visible_text("\xE2\x80"), "\\x{E2}\\x{80}");             // torn
}

TEST(VisibleText, AJsonDocumentKeepsItsValues) {
    const std::string title = all_hostile() + "é部";
    const std::string document = nlohmann::json{{"title", title}}.dump(1);
    const std::string shown = visible_json(document);
    EXPECT_FALSE(holds_any(shown));
    EXPECT_EQ(nlohmann::json::parse(shown).at("title"), title);
}

TEST(VisibleText, NoOutputOfTheProgramHoldsWhatItsInputHides) {
    const TemporaryFolder folder;
    const std::string evil = all_hostile();
    const std::string reading_job = [&] {
        std::ifstream stream(STANDFAST_SOURCE_DIR "/examples/01-shortest-job/job.toml");
        return std::string(std::istreambuf_iterator<char>(stream), {});
    }();
    // TOML writes controls by their code point; the rest may stand as it is.
    const std::string inside =
        "a\\u001b[31mb\\u0007\\u009b\xE2\x80\xAE"
        "c\xE2\x81\xA6"
        "d\xE2\x80\x8B"
        "e\xC2\xAD";
    std::string job = reading_job;
    const std::size_t title = job.find("title = \"");
    ASSERT_NE(title, std::string::npos);
    job.insert(title + 9, inside);
    const std::string path = folder.write("job\xE2\x80\xAE.toml", job);
    const std::string broken = folder.write("broken.toml", "\"k\xE2\x80\xAEy\\u009b\" = 1\n" + job);
    const std::vector<std::vector<std::string>> calls = {
        {"check", path, "--draws", "0", "--speeds", "9000 rpm"},
        {"check", path, "--draws", "0", "--speeds", "9000 rpm", "--json"},
        {"check", path, "--draws", "0", "--speeds", "9000 rpm", "--quiet"},
        {"check", broken},
        {"check", evil},
        {"check", path, "--pass", evil},
        {"check", path, "--" + evil},
        {"check", path, "--units", evil},
        {"check", path, "--speeds", evil},
        {"check", path, "--materials", evil},
        {"check", path, "--with", evil},
        {"explain", path, "--sound", evil},
        {"explain", path, "--heard", evil},
        {"fit", path, "--without", evil},
        {"materials", evil},
        {evil},
        {"trade", "--merge", evil},
        {"new", folder.path() + "/no-such-folder/" + evil},
        {"new", folder.path() + "/" + evil}};
    for (const auto& call : calls) {
        const ProgramResult result = run_program(call);
        EXPECT_FALSE(holds_any(result.standard_output)) << testing::PrintToString(call);
        EXPECT_FALSE(holds_any(result.standard_error)) << testing::PrintToString(call);
        EXPECT_NE(result.standard_output + result.standard_error, "")
            << testing::PrintToString(call);
    }
}

}  // namespace
}  // namespace standfast
