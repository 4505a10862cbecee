#include "cli/shards/run_shard.hpp"

#include <fmt/format.h>

#include <filesystem>
#include <set>

#include "cli/files/safe_file.hpp"
#include "cli/files/usage_error.hpp"
#include "cli/job/merge_files.hpp"
#include "cli/options/progress.hpp"
#include "cli/shards/whole_lines.hpp"

namespace standfast {
namespace {

/// A value without its places, so that comments and layout do not count.
void append(std::string& text, const Value& value) {
    text += fmt::format("{}:{}:{}:{}(", static_cast<int>(value.kind), value.text, value.number,
                        value.truth);
    for (const Value& item : value.items) {
        append(text, item);
        text += ",";
    }
    for (const Entry& entry : value.entries) {
        text += entry.key + "=";
        append(text, entry.value);
        text += ";";
    }
    text += ")";
}

void append_file(std::string& text, const std::string& path) {
    std::vector<Diagnostic> errors;
    const std::optional<Value> tree = load_merged(path, errors);
    if (!tree) {
        throw UsageError(format_diagnostics(std::move(errors)));
    }
    append(text, *tree);
    text += "\n";
}

bool is_in_shard(std::size_t unit, const Shard& shard) {
    return unit % shard.count == shard.index - 1;
}

/// Units whose lines are in the file already; cuts a torn line off its end.
std::set<std::size_t> units_in(const std::string& path, const ShardHeader& header,
                               const Options& options) {
    std::set<std::size_t> done;
    if (!std::filesystem::exists(path)) {
        return done;
    }
    const auto refuse = [&](const std::string& why) {
        throw UsageError(
            fmt::format("{}: {}; choose another file, or --force to begin it anew", path, why));
    };
    if (options.force) {
        std::filesystem::resize_file(path, 0);
        return done;
    }
    const std::string bytes = file_bytes(path);
    const std::size_t whole = bytes.find_last_of('\n') + 1;  // npos + 1 = 0: no whole line
    std::string_view rest = std::string_view(bytes).substr(0, whole);
    if (whole == 0 && !bytes.empty() && !bytes.starts_with("{\"schema\":\"standfast.shard/1\"")) {
        refuse("holds something else");
    }
    while (!rest.empty()) {
        const std::size_t end = rest.find('\n');
        try {
            const ShardLine line = parse_line(rest.substr(0, end));
            if (!(line.header == header) || !is_in_shard(line.unit, *options.shard)) {
                refuse("holds lines of another run or shard");
            }
            done.insert(line.unit);
        } catch (const UsageError& error) {
            refuse(error.what());
        }
        rest.remove_prefix(end + 1);
    }
    std::filesystem::resize_file(path, whole);
    return done;
}

}  // namespace

std::string inputs_fingerprint(const Options& options, const std::vector<std::string>& measurements,
                               const std::string& also) {
    std::string text = also + "\n";
    for (const std::string& path : options.arguments) {
        append_file(text, path);
    }
    if (options.overlay) {
        append_file(text, *options.overlay);
    }
    if (options.materials_file) {
        text += file_bytes(*options.materials_file);
    }
    for (const std::string& path : measurements) {
        const std::string bytes = file_bytes(path);
        text += fmt::format("measured {}\n", bytes.size()) + bytes;
    }
    text += fmt::format("other machine {} ", options.other_machine);
    text += fmt::format("method {} draws {} pass {} every speed {} speeds",
                        static_cast<int>(options.method), options.draws, options.pass.value_or(""),
                        options.every_speed);
    for (const SpindleSpeed speed : options.speeds) {
        text += fmt::format(" {}", speed.radians_per_second);
    }
    return fingerprint(text);
}

int run_shard(const ShardHeader& header, const Options& options,
              const std::function<std::string(std::size_t)>& payload) {
    if (options.out && std::filesystem::exists(*options.out) && !is_regular_file(*options.out)) {
        throw UsageError(fmt::format("{}: is no ordinary file", *options.out));
    }
    // Taken before it is read, so that no other run's line is taken for a torn one.
    WholeLines lines(options.out.value_or(""));
    const std::set<std::size_t> done =
        options.out ? units_in(*options.out, header, options) : std::set<std::size_t>{};
    std::vector<std::size_t> left;
    for (std::size_t unit = 0; unit < header.units; ++unit) {
        if (is_in_shard(unit, *options.shard) && !done.contains(unit)) {
            left.push_back(unit);
        }
    }
    Progress progress(!options.quiet, left.size());
    for (const std::size_t unit : left) {
        progress.next(fmt::format("shard {} of {}", options.shard->index, options.shard->count));
        lines.write(line_text({.header = header, .unit = unit, .payload = payload(unit)}));
    }
    return 0;
}

}  // namespace standfast
