#include "cli/commands/command_line_pages.hpp"

#include <gtest/gtest.h>

#include <cstdlib>

#include "cli/options/options.hpp"
#include "tests/support/run_program.hpp"

namespace standfast {
namespace {

using tests::TemporaryFolder;

bool has(const std::string& text, const std::string& part) {
    return text.find(part) != std::string::npos;
}

std::string in_roff(std::string_view name) {
    std::string out;
    for (const char c : name) out += c == '-' ? "\\-" : std::string(1, c);
    return out;
}

TEST(CommandLinePages, NoOptionOfTheTableIsMissing) {
    const std::string man = manual_page("1.0", "2026-01-01"), bash = bash_completion(),
                      zsh = zsh_completion(), fish = fish_completion();
    for (const OptionRow& row : option_table()) {
        if (row.help.empty() || row.commands == bit_of(Command::none)) continue;
        const std::string name(row.name);
        EXPECT_TRUE(has(man, "\\fB" + in_roff(name) + "\\fR")) << name;
        EXPECT_TRUE(has(bash, name)) << name;
        EXPECT_TRUE(has(zsh, name + "[")) << name;
        EXPECT_TRUE(has(fish, " -l " + name.substr(2) + " ")) << name;
    }
}

TEST(CommandLinePages, EveryCommandHasItsPart) {
    for (const CommandRow& row : command_table()) {
        if (row.planned) continue;
        EXPECT_TRUE(has(manual_page("1.0", "2026-01-01"), ".SH \"" + std::string(row.name)));
        EXPECT_TRUE(has(bash_completion(), std::string(row.name) + ") options="));
        EXPECT_TRUE(has(zsh_completion(), "'" + std::string(row.name) + ":"));
    }
}

/// A shell reads it without complaint and answers with the one option that fits.
TEST(CommandLinePages, BashCompletesAnOption) {
    const TemporaryFolder folder;
    const std::string file = folder.write("standfast.bash", bash_completion());
    const std::string script = folder.write(
        "try.sh", ". " + file +
                      "; COMP_WORDS=(standfast check --rep); COMP_CWORD=2; _standfast; "
                      "[ \"${COMPREPLY[*]}\" = --report ]\n"
                      "COMP_WORDS=(standfast check --units i); COMP_CWORD=3; _standfast; "
                      "[ \"${COMPREPLY[*]}\" = inch ] || exit 2\n");
    EXPECT_EQ(std::system(("bash -eu " + script).c_str()), 0);
}

}  // namespace
}  // namespace standfast
