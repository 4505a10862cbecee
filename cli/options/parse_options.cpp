#include "cli/options/parse_options.hpp"

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <algorithm>

#include "cli/files/usage_error.hpp"
#include "materials/nearest_name.hpp"

namespace standfast {
namespace {

std::string suggestion(std::string_view word, const std::vector<std::string>& candidates) {
    const auto nearest = nearest_name(word, candidates);
    return nearest ? fmt::format("; did you mean \"{}\"?", *nearest) : "";
}

std::vector<std::string> names_of_commands() {
    std::vector<std::string> names;
    for (const CommandRow& row : command_table()) {
        if (!row.planned) {
            names.emplace_back(row.name);
        }
    }
    return names;
}

std::string list_of_commands() {
    std::string list;
    for (const std::string& name : names_of_commands()) {
        list += (list.empty() ? "" : ", ") + name;
    }
    return list;
}

/// CLI11 answers a misspelt command without naming it, so the first word is looked at here.
Command command_named(const std::string& word) {
    for (const CommandRow& row : command_table()) {
        if (row.name == word && row.planned) {
            throw UsageError(fmt::format("this version has no command \"{}\"; it has: {}", word,
                                         list_of_commands()));
        }
        if (row.name == word) {
            return row.command;
        }
    }
    if (word.starts_with("-")) {
        throw UsageError(fmt::format(
            R"("{}": the command comes first, as in "standfast check job.toml")", word));
    }
    if (word.ends_with(".toml")) {
        throw UsageError(
            fmt::format("the command comes first: did you mean \"standfast check {}\"?", word));
    }
    throw UsageError(fmt::format("there is no command \"{}\"{} (commands: {})", word,
                                 suggestion(word, names_of_commands()), list_of_commands()));
}

void add_options(CLI::App& app, Options& options) {
    for (const OptionRow& row : option_table()) {
        if ((row.commands & bit_of(options.command)) == 0) {
            continue;
        }
        const std::string name = row.name == "--help" ? "-h,--help" : std::string(row.name);
        if (row.value.empty()) {
            app.add_flag_callback(name, [&options, &row] { row.store(options, {}); });
        } else if (row.repeats) {
            app.add_option_function<std::vector<std::string>>(
                   name,
                   [&options, &row](const std::vector<std::string>& values) {
                       for (const std::string& value : values) row.store(options, value);
                   })
                ->type_name(std::string(row.value))
                ->expected(1)
                ->multi_option_policy(CLI::MultiOptionPolicy::TakeAll);
        } else {
            app.add_option_function<std::string>(
                   name, [&options, &row](const std::string& value) { row.store(options, value); })
                ->type_name(std::string(row.value))
                ->multi_option_policy(CLI::MultiOptionPolicy::TakeLast);
        }
    }
}

/// Names an option that the command does not have, with the nearest that it has.
void refuse_unknown(const Options& options, const std::vector<std::string>& unknown) {
    if (unknown.empty()) {
        return;
    }
    const std::string name = unknown.front().substr(0, unknown.front().find('='));
    std::vector<std::string> known;
    for (const OptionRow& row : option_table()) {
        if ((row.commands & bit_of(options.command)) != 0 && !row.help.empty()) {
            known.emplace_back(row.name);
        }
        if (row.name == name && !row.help.empty()) {
            throw UsageError(fmt::format("{} is not an option of this command; see --help", name));
        }
    }
    throw UsageError(fmt::format("there is no option {}{}", name, suggestion(name, known)));
}

void require_arguments(const Options& options) {
    if (options.help || options.version) {
        return;
    }
    const bool jobs = options.command == Command::check || options.command == Command::trade;
    const std::string_view name = row_of(options.command).name;
    if (jobs && options.arguments.empty()) {
        throw UsageError(
            options.merge
                ? fmt::format("--merge needs files of shards, as in \"standfast {} --merge "
                              "share-*.jsonl\"",
                              name)
                : fmt::format("{} needs a job file, as in \"standfast {} job.toml\"; "
                              "\"standfast new\" writes one to start from",
                              name, name));
    }
    if (options.command == Command::explain && options.arguments.empty()) {
        throw UsageError(
            "explain needs a job file, as in \"standfast explain job.toml --sound cut.wav\"");
    }
    if (options.merge && options.shard) {
        throw UsageError("--merge joins what --shard wrote: one or the other");
    }
    if (options.report && options.shard) {
        throw UsageError(
            "--report shows the whole: it goes with --merge of a trade, not with --shard");
    }
    if (options.report && options.merge && options.command == Command::check) {
        throw UsageError(
            "--report needs the jobs themselves: check computes them again without --merge");
    }
    if (options.out && !options.shard) {
        throw UsageError("--out is the file of a shard's lines: it goes with --shard K/N");
    }
    if (options.command == Command::fit && options.arguments.empty() && !options.tap) {
        throw UsageError(
            "fit needs a job file with [[measured]], as in \"standfast fit job.toml\", or a "
            "recording of knocks: --tap FILE");
    }
    const std::size_t most = options.command == Command::schema   ? 0
                             : options.command == Command::create ? 2
                                                                  : 1;
    if (!jobs && options.arguments.size() > most) {
        const std::string_view taken = row_of(options.command).arguments;
        throw UsageError(fmt::format("\"{}\" is one argument too many: {} takes {}",
                                     options.arguments[most], name,
                                     taken.empty() ? "none" : taken));
    }
}

void parse_rest(CLI::App& app, std::vector<std::string> rest) {
    std::reverse(rest.begin(), rest.end());  // CLI11 takes the words last first
    try {
        app.parse(std::move(rest));
    } catch (const CLI::ParseError& error) {
        throw UsageError(error.what());
    }
}

}  // namespace

Options parse_options(const std::vector<std::string>& arguments) {
    if (arguments.empty()) {
        throw UsageError(fmt::format("no command is given; it is one of: {} (standfast --help)",
                                     list_of_commands()));
    }
    Options options;
    const bool general = arguments.front() == "--help" || arguments.front() == "-h" ||
                         arguments.front() == "--version";
    options.command = general ? Command::none : command_named(arguments.front());

    CLI::App app;
    app.set_help_flag();
    app.allow_extras();
    // Whether a job exists is the reader's to say: a stray word after a misspelt option would
    // otherwise be blamed instead of the option.
    if (!general) {
        app.add_option("ARGUMENTS", options.arguments);
    }
    add_options(app, options);
    // What follows "--" is no option, whatever it begins with; CLI11 would keep the "--" as well.
    const auto end = std::find(arguments.begin(), arguments.end(), "--");
    parse_rest(app, {arguments.begin() + (general ? 0 : 1), end});
    refuse_unknown(options, app.remaining());
    if (end != arguments.end()) {
        options.arguments.insert(options.arguments.end(), end + 1, arguments.end());
    }
    // "all" is no job's name where help is asked for.
    options.help_all =
        options.help && !options.arguments.empty() && options.arguments.front() == "all";
    require_arguments(options);
    return options;
}

}  // namespace standfast
