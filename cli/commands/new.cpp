#include "cli/commands/new.hpp"

#include <fmt/format.h>

#include <iostream>

#include "cli/commands/inputs.hpp"
#include "cli/files/safe_file.hpp"
#include "cli/files/usage_error.hpp"
#include "cli/starters/program_job.hpp"
#include "cli/starters/starter_job.hpp"
#include "cli/text/visible_text.hpp"
#include "materials/nearest_name.hpp"

namespace standfast {
namespace {

constexpr std::uintmax_t kLargestProgram = 500'000'000;  // bytes

struct Wanted {
    const StarterKind* kind = nullptr;  ///< none: not said
    std::string path;                   ///< empty: not said
};

bool looks_like_a_file(std::string_view word) {
    return word == "-" || word.find_first_of("./\\") != std::string_view::npos;
}

[[noreturn]] void refuse_kind(const std::string& word) {
    std::vector<std::string> names;
    for (const StarterKind& kind : starter_kinds()) names.emplace_back(kind.name);
    const auto near = nearest_name(word, names);
    throw UsageError(fmt::format(
        "there is no starter \"{}\"{}; accepted: {}; a file is written with its ending, as in "
        "\"{}.toml\"",
        word, near ? fmt::format(", did you mean \"{}\"?", *near) : "", fmt::join(names, ", "),
        word.substr(0, 40)));
}

/// Kind and file in either order; a word that is neither is a misspelt kind.
Wanted wanted_of(const Options& options) {
    Wanted wanted;
    for (const std::string& word : options.arguments) {
        const bool file = looks_like_a_file(word);
        const StarterKind* const kind = file ? nullptr : starter_kind(word);
        if (!file && kind == nullptr) refuse_kind(word);
        if (file ? !wanted.path.empty() : wanted.kind != nullptr) {
            throw UsageError(
                fmt::format("\"{}\" is one {} too many", word, file ? "file" : "kind of starter"));
        }
        if (file) {
            wanted.path = word;
        } else {
            wanted.kind = kind;
        }
    }
    return wanted;
}

struct Written {
    std::string job;
    std::string next;  ///< what to do with it
};

Written from_program(const std::string& path, const StarterKind& kind, UnitSystem units) {
    if (kind.name == "measured-modes") {
        throw UsageError(
            "--from makes tools to fill in, which measured modes replace: choose "
            "riser, vice, pyramid or tower");
    }
    std::error_code unknown;
    if (!is_regular_file(path)) {
        throw UsageError(fmt::format("--from {}: is no file that can be read", path));
    }
    if (std::filesystem::file_size(path, unknown) > kLargestProgram) {
        throw UsageError(fmt::format("--from {}: is larger than 500 MB", path));
    }
    const NcProgram program = read_nc_program(file_bytes(path));
    if (program.cuts.empty()) {
        throw UsageError(
            fmt::format("--from {}: holds no cut: no G1, G2 or G3 that moves in X or Y", path));
    }
    Written written{.job = program_job(program, path, starter_stand(kind.name, units)), .next = {}};
    const auto count = [](std::size_t n, std::string_view one, std::string_view more) {
        return fmt::format("{} {}", n, n == 1 ? one : more);
    };
    written.next =
        fmt::format("{} and {} from {}; search for \"FILL IN\", put what the program does not say",
                    count(program.tools.size(), "tool", "tools"),
                    count(program.cuts.size(), "pass", "passes"), path);
    if (!program.remarks.empty() || !program.units_said) {
        written.next += "; what was not taken of it is listed at the end";
    }
    return written;
}

}  // namespace

int run_new(const Options& options) {
    const Wanted wanted = wanted_of(options);
    const StarterKind& kind = wanted.kind == nullptr ? starter_kinds().front() : *wanted.kind;
    const std::string path = wanted.path.empty() ? "job.toml" : wanted.path;
    const Written written = options.program ? from_program(*options.program, kind, options.units)
                                            : Written{starter_job(kind.name, options.units), {}};
    if (path == "-") {
        std::cout << written.job;
        return 0;
    }
    refuse_inputs(options, {path});
    if (!options.force && look_at(path, "") != Existing::nothing) {
        throw UsageError(fmt::format("{}: is there already; --force overwrites it", path));
    }
    write_file(path, written.job);
    if (!options.quiet) {
        const std::string next =
            written.next.empty() ? fmt::format("next: standfast check {}", path) : written.next;
        std::cout << visible_lines(fmt::format("wrote {}; {}\n", path, next));
    }
    return 0;
}

}  // namespace standfast
