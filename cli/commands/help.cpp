#include "cli/commands/help.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "cli/text/table.hpp"

namespace standfast {
namespace {

void append_rows(std::string& text, const std::vector<Statement>& rows, int width) {
    text += set_out({Paragraph{.label = "", .entries = rows}}, Page{.width = width, .gutter = 2});
}

/// Options that a shop uses every day; the others are told by --help all.
bool is_daily(std::string_view option) {
    constexpr std::array kDaily = {"--pass",    "--units",  "--report",     "--json",  "--with",
                                   "--speeds",  "--sound",  "--background", "--heard", "--marks",
                                   "--assumed", "--save",   "--plan",       "--tap",   "--help",
                                   "--version", "--explore"};
    return std::find(kDaily.begin(), kDaily.end(), option) != kDaily.end();
}

std::vector<Statement> option_rows(Command command, bool all) {
    std::vector<Statement> rows;
    for (const OptionRow& row : option_table()) {
        if ((row.commands & bit_of(command)) != 0 && !row.help.empty() &&
            (all || command == Command::create || is_daily(row.name))) {
            const std::string name =
                std::string(row.name) + (row.value.empty() ? "" : " " + std::string(row.value));
            rows.push_back({.lead = name, .text = std::string(row.help)});
        }
    }
    return rows;
}

std::string program_help(int width) {
    std::string text =
        "standfast: are the fixture stack and the tool rigid enough for the cut?\n\n"
        "usage: standfast COMMAND [OPTIONS]\n\n";
    std::vector<Statement> rows;
    for (const CommandRow& row : command_table()) {
        if (!row.planned) {
            rows.push_back({.lead = fmt::format("{} {}", row.name, row.arguments),
                            .text = std::string(row.summary)});
        }
    }
    append_rows(text, rows, width);
    text += "\n";
    append_rows(text, option_rows(Command::none, true), width);
    text += "\nstandfast COMMAND --help tells its options. First job: standfast new job.toml\n";
    return text;
}

constexpr std::string_view kExitCodes =
    "exit codes: 0 computed; 2 bad input or usage; 3 with --strict when a pass is at "
    "\"avoid\"; 130 interrupted; 1 anything else";

}  // namespace

std::string help_text(Command command, int width, bool all) {
    if (command == Command::none) {
        return program_help(width);
    }
    const CommandRow& row = row_of(command);
    std::string text = fmt::format("usage: standfast {} {} [OPTIONS]\n\n", row.name, row.arguments);
    append_rows(text, {{.lead = "", .text = std::string(row.summary)}}, width);
    text += "\n";
    append_rows(text, option_rows(command, all), width);
    text += "\n";
    if (!all) {
        const std::string more =
            fmt::format("standfast {} --help all tells every option", row.name);
        append_rows(text, {{.lead = "", .text = more}}, width);
    }
    append_rows(text, {{.lead = "", .text = std::string(kExitCodes)}}, width);
    return text;
}

}  // namespace standfast
