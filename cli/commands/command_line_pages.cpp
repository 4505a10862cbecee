#include "cli/commands/command_line_pages.hpp"

#include <fmt/format.h>

#include <set>

#include "cli/options/options.hpp"
#include "cli/report/common/cautions.hpp"
#include "cli/starters/starter_job.hpp"

namespace standfast {
namespace {

/// What may not stand in roff as it is: a backslash, a hyphen that is typed, a dot or quote that
/// begins a line.
std::string roff(std::string_view text) {
    std::string out;
    for (const char c : text) {
        if (c == '\\') {
            out += "\\e";
        } else if (c == '-') {
            out += "\\-";
        } else {
            if ((c == '.' || c == '\'') && (out.empty() || out.back() == '\n')) out += "\\&";
            out += c;
        }
    }
    return out;
}

bool is_listed(const OptionRow& row, Command command) {
    return (row.commands & bit_of(command)) != 0 && !row.help.empty();
}

/// Values that are a file or a folder, by how the tables name them.
bool takes_file(std::string_view value) {
    return value.starts_with("FILE") || value == "OVERLAY.toml" || value == "JOB" ||
           value == "JOB..." || value == "PROGRAM.nc";
}

/// Words that a command takes beside files.
std::string argument_words(Command command) {
    std::string words;
    if (command == Command::create) {
        for (const StarterKind& kind : starter_kinds()) {
            words += (words.empty() ? "" : " ") + std::string(kind.name);
        }
    }
    return words;
}

/// Words that an option accepts, where these are a closed list.
std::string_view words_of(std::string_view option) {
    if (option == "--units") return "metric inch";
    if (option == "--color") return "auto always never";
    if (option == "--method") return "periodic zero-order";
    return "";
}

std::string in_single_quotes(std::string_view text) {
    std::string out = "'";
    for (const char c : text) out += c == '\'' ? std::string("'\\''") : std::string(1, c);
    return out + "'";
}

/// zsh takes a colon and brackets in a description for its own.
std::string zsh_words(std::string_view text) {
    std::string out;
    for (const char c : text) {
        if (c == ':' || c == '[' || c == ']' || c == '\\') out += '\\';
        out += c == '\'' ? '`' : c;
    }
    return out;
}

std::string first_clause(std::string_view help) {
    const std::size_t end = help.find_first_of(";:");
    return std::string(help.substr(0, end));
}

}  // namespace

std::string manual_page(const std::string& version, const std::string& date) {
    std::string page =
        fmt::format(".TH STANDFAST 1 \"{}\" \"standfast {}\" \"User Commands\"\n", date, version);
    page +=
        ".SH NAME\nstandfast \\- rigidity of fixture stacks and long cutters before the cut\n"
        ".SH SYNOPSIS\n.B standfast\n.I COMMAND\n[\\fIOPTIONS\\fR]\n"
        ".SH DESCRIPTION\nTells from a job file whether a tall fixtured stack and a long cutter "
        "are "
        "rigid enough for a cut: how far they push off, at which spindle speeds the cut chatters, "
        "whether every joint holds, and which change helps most. It needs no network.\n"
        ".PP\nA job is a TOML file; \\fBstandfast new\\fR writes one to start from.\n";
    for (const CommandRow& row : command_table()) {
        if (row.planned) continue;
        page += fmt::format(".SH \"{} {}\"\n{}.\n", row.name, row.arguments, roff(row.summary));
        for (const OptionRow& option : option_table()) {
            if (!is_listed(option, row.command)) continue;
            page +=
                fmt::format(".TP\n\\fB{}\\fR{}\n{}\n", roff(option.name),
                            option.value.empty() ? std::string()
                                                 : fmt::format(" \\fI{}\\fR", roff(option.value)),
                            roff(option.help));
        }
    }
    page +=
        ".SH \"EXIT STATUS\"\n0 computed; 2 bad input or usage; 3 with \\-\\-strict when a pass is "
        "at "
        "\\(lqavoid\\(rq; 130 interrupted; 1 anything else.\n"
        ".SH ENVIRONMENT\n.TP\n\\fBNO_COLOR\\fR\nNo colour on a terminal.\n.SH CAUTIONS\n";
    for (const std::string& caution : cautions()) page += roff(caution) + "\n.br\n";
    return page;
}

std::string bash_completion() {
    std::string commands, cases;
    for (const CommandRow& row : command_table()) {
        if (row.planned) continue;
        commands += (commands.empty() ? "" : " ") + std::string(row.name);
        std::string options;
        for (const OptionRow& option : option_table()) {
            if (is_listed(option, row.command)) {
                options += (options.empty() ? "" : " ") + std::string(option.name);
            }
        }
        cases += fmt::format("        {}) options='{}' words='{}' ;;\n", row.name, options,
                             argument_words(row.command));
    }
    std::string values;
    std::set<std::string_view> seen;
    for (const OptionRow& option : option_table()) {
        // An option of two commands with two meanings: the file is what can be completed.
        if (option.help.empty() || option.value.empty() || !seen.insert(option.name).second) {
            continue;
        }
        const std::string_view words = words_of(option.name);
        const std::string answer =
            !words.empty() ? fmt::format("COMPREPLY=($(compgen -W '{}' -- \"$word\"))", words)
            : option.value == "DIR"    ? "COMPREPLY=($(compgen -d -- \"$word\"))"
            : takes_file(option.value) ? "COMPREPLY=($(compgen -f -- \"$word\"))"
                                       : "COMPREPLY=()";
        values += fmt::format("        {}) {}; return ;;\n", option.name, answer);
    }
    return fmt::format(
        "# bash completion of standfast, made from its table of options\n"
        "_standfast() {{\n"
        "    local word=\"${{COMP_WORDS[COMP_CWORD]}}\" before=\"${{COMP_WORDS[COMP_CWORD-1]}}\"\n"
        "    local options= words=\n"
        "    if [ \"$COMP_CWORD\" -eq 1 ]; then\n"
        "        COMPREPLY=($(compgen -W '{} --help --version' -- \"$word\"))\n"
        "        return\n"
        "    fi\n"
        "    case \"$before\" in\n{}    esac\n"
        "    case \"${{COMP_WORDS[1]}}\" in\n{}    esac\n"
        "    case \"$word\" in\n"
        "        -*) COMPREPLY=($(compgen -W \"$options\" -- \"$word\")) ;;\n"
        "        *) COMPREPLY=($(compgen -W \"$words\" -- \"$word\") $(compgen -f -- "
        "\"$word\")) ;;\n"
        "    esac\n"
        "}}\n"
        "complete -o filenames -F _standfast standfast\n",
        commands, values, cases);
}

std::string zsh_completion() {
    std::string commands, cases;
    for (const CommandRow& row : command_table()) {
        if (row.planned) continue;
        commands += fmt::format("        '{}:{}'\n", row.name, zsh_words(row.summary));
        cases += fmt::format("        {})\n            _arguments", row.name);
        for (const OptionRow& option : option_table()) {
            if (!is_listed(option, row.command)) continue;
            std::string value;
            if (!option.value.empty()) {
                const std::string_view words = words_of(option.name);
                value = fmt::format(":{}:{}", zsh_words(option.value),
                                    !words.empty()             ? fmt::format("({})", words)
                                    : option.value == "DIR"    ? "_directories"
                                    : takes_file(option.value) ? "_files"
                                                               : "");
            }
            cases += fmt::format(" \\\n                '{}{}[{}]{}'", option.repeats ? "*" : "",
                                 option.name, zsh_words(first_clause(option.help)), value);
        }
        const std::string words = argument_words(row.command);
        cases += words.empty() ? std::string(" \\\n                '*:file:_files' ;;\n")
                               : fmt::format(
                                     " \\\n                '1:kind or file:({})' "
                                     "'*:file:_files' ;;\n",
                                     words);
    }
    return fmt::format(
        "#compdef standfast\n# zsh completion of standfast, made from its table of options\n"
        "_standfast() {{\n    local -a commands\n    commands=(\n{}    )\n"
        "    if (( CURRENT == 2 )); then\n        _describe command commands\n        return\n"
        "    fi\n    local command=$words[2]\n    shift words\n    (( CURRENT-- ))\n"
        "    case $command in\n{}    esac\n}}\n_standfast \"$@\"\n",
        commands, cases);
}

std::string fish_completion() {
    std::string out = "# fish completion of standfast, made from its table of options\n";
    for (const CommandRow& row : command_table()) {
        if (row.planned) continue;
        out += fmt::format("complete -c standfast -n __fish_use_subcommand -f -a {} -d {}\n",
                           row.name, in_single_quotes(row.summary));
        if (const std::string words = argument_words(row.command); !words.empty()) {
            out +=
                fmt::format("complete -c standfast -n '__fish_seen_subcommand_from {}' -a '{}'\n",
                            row.name, words);
        }
        for (const OptionRow& option : option_table()) {
            if (!is_listed(option, row.command)) continue;
            const std::string_view words = words_of(option.name);
            std::string value = option.value.empty() ? "" : " -r";
            if (!words.empty()) {
                value += fmt::format(" -f -a '{}'", words);
            } else if (!option.value.empty() && option.value != "DIR" &&
                       !takes_file(option.value)) {
                value += " -f";
            }
            out += fmt::format(
                "complete -c standfast -n '__fish_seen_subcommand_from {}' -l {} -d {}{}\n",
                row.name, option.name.substr(2), in_single_quotes(first_clause(option.help)),
                value);
        }
    }
    return out;
}

}  // namespace standfast
