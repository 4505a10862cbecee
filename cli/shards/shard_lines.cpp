#include "cli/shards/shard_lines.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <nlohmann/json.hpp>
#include <optional>
#include <system_error>

#include "cli/files/safe_file.hpp"
#include "cli/files/usage_error.hpp"

namespace standfast {
namespace {

using Json = nlohmann::ordered_json;  // payloads keep the order of their keys

constexpr std::string_view kSchema = "standfast.shard/1";
constexpr std::size_t kMostListed = 8;

/// In what two headers differ, in words.
std::string difference(const ShardHeader& a, const ShardHeader& b) {
    if (a.command != b.command) {
        return fmt::format(R"(it is of "{}", not of "{}")", b.command, a.command);
    }
    if (a.version != b.version) {
        return fmt::format("it was made by version {}, the others by {}", b.version, a.version);
    }
    if (a.inputs != b.inputs) {
        return "its inputs (job files, measurements or options) were others";
    }
    if (a.seed != b.seed) {
        return fmt::format("its seed was {}, that of the others {}", b.seed, a.seed);
    }
    return fmt::format("its run has {} units, that of the others {}", b.units, a.units);
}

struct Place {
    std::string path;
    std::size_t line = 0, column = 1;

    std::string text() const { return fmt::format("{}:{}:{}", path, line, column); }
};

struct Gathered {
    std::optional<ShardHeader> header;
    std::vector<std::optional<std::string>> payloads;
    std::vector<Place> places;
};

[[noreturn]] void refuse(const Place& at, const std::string& why) {
    throw UsageError(fmt::format("{}: {}", at.text(), why));
}

ShardLine line_at(const Place& at, std::string_view text) {
    try {
        return parse_line(text);
    } catch (const BadShardLine& error) {
        refuse({at.path, at.line, error.column()}, error.what());
    }
}

/// Column where the value of a key begins, or 1.
std::size_t column_of(std::string_view text, std::string_view key) {
    const std::string quoted = fmt::format("\"{}\":", key);
    const std::size_t found = text.find(quoted);
    return found == std::string_view::npos ? 1 : found + quoted.size() + 1;
}

void take(Gathered& gathered, const Place& at, std::string_view text) {
    ShardLine line = line_at(at, text);
    if (!gathered.header) {
        gathered.header = line.header;
        gathered.payloads.resize(line.header.units);
        gathered.places.resize(line.header.units);
    }
    if (!(*gathered.header == line.header)) {
        refuse(at,
               "does not go with the lines before: " + difference(*gathered.header, line.header));
    }
    if (gathered.payloads[line.unit]) {
        const Place& first = gathered.places[line.unit];
        refuse({at.path, at.line, column_of(text, "unit")},
               fmt::format("unit {} is there twice, first at {}:{}", line.unit + 1, first.path,
                           first.line));
    }
    gathered.payloads[line.unit] = std::move(line.payload);
    gathered.places[line.unit] = {at.path, at.line, column_of(text, "payload")};
}

void take_file(Gathered& gathered, const std::string& path) {
    if (!is_regular_file(path)) {
        std::error_code unknown;
        throw UsageError(fmt::format("{}: {}", path,
                                     std::filesystem::is_directory(path, unknown)
                                         ? "is a folder, not a file"
                                         : "there is no such file"));
    }
    const std::string bytes = file_bytes(path);
    std::string_view rest = bytes;
    for (std::size_t line = 1; !rest.empty(); ++line) {
        const std::size_t end = rest.find('\n');
        if (end == std::string_view::npos) {
            refuse({path, line}, "the line is torn: run that shard again, it goes on from there");
        }
        take(gathered, {path, line}, rest.substr(0, end));
        rest.remove_prefix(end + 1);
    }
}

/// JSON of any depth would be walked by a function that calls itself.
void refuse_depth(std::string_view text) {
    constexpr std::size_t kDeepest = 64;
    std::size_t depth = 0;
    bool in_string = false;
    for (std::size_t i = 0; i < text.size(); ++i) {
        const char c = text[i];
        if (in_string && c == '\\') {
            ++i;
        } else if (c == '"') {
            in_string = !in_string;
        } else if (!in_string && (c == '[' || c == '{') && ++depth > kDeepest) {
            throw BadShardLine("is no line of a shard: nested too deeply", i + 1);
        } else if (!in_string && (c == ']' || c == '}') && depth > 0) {
            --depth;
        }
    }
}

void require_all(const Gathered& gathered) {
    std::string missing;
    std::size_t count = 0;
    for (std::size_t unit = 0; unit < gathered.payloads.size(); ++unit) {
        if (gathered.payloads[unit]) {
            continue;
        }
        if (++count <= kMostListed) {
            missing += fmt::format("{}{}", missing.empty() ? "" : ", ", unit + 1);
        }
    }
    if (count > 0) {
        throw UsageError(fmt::format(
            "{} of {} units are missing ({}{}): a shard is missing or was interrupted; run it "
            "again",
            count, gathered.payloads.size(), missing, count > kMostListed ? ", ..." : ""));
    }
}

}  // namespace

std::string line_text(const ShardLine& line) {
    Json json;
    json["schema"] = kSchema;
    json["command"] = line.header.command;
    json["version"] = line.header.version;
    json["inputs"] = line.header.inputs;
    json["seed"] = line.header.seed;
    json["units"] = line.header.units;
    json["unit"] = line.unit;
    json["payload"] = Json::parse(line.payload);
    return json.dump(-1, ' ', false, Json::error_handler_t::replace) + "\n";
}

ShardLine parse_line(std::string_view text) {
    ShardLine line;
    refuse_depth(text);
    try {
        const Json json = Json::parse(text);
        if (json.at("schema") != kSchema) {
            throw BadShardLine("is no line of a shard", 1);
        }
        line.header = {.command = json.at("command"),
                       .version = json.at("version"),
                       .inputs = json.at("inputs"),
                       .seed = json.at("seed"),
                       .units = json.at("units")};
        line.unit = json.at("unit");
        line.payload = json.at("payload").dump();
    } catch (const Json::parse_error& error) {
        throw BadShardLine("is no line of a shard: no JSON from here on",
                           std::max<std::size_t>(error.byte, 1));
    } catch (const Json::exception&) {
        throw BadShardLine("is no line of a shard: a key is missing or holds something else", 1);
    }
    constexpr std::size_t kMostUnits = 10'000'000;
    if (line.header.units > kMostUnits || line.unit >= line.header.units) {
        throw BadShardLine("is no line of a shard: it counts its units wrongly",
                           column_of(text, "units"));
    }
    return line;
}

MergedShards merge_shards(const std::vector<std::string>& paths, std::string_view command) {
    Gathered gathered;
    for (const std::string& path : paths) {
        take_file(gathered, path);
    }
    if (!gathered.header) {
        throw UsageError("--merge: the files hold no line");
    }
    if (gathered.header->command != command) {
        throw UsageError(fmt::format(R"(these are shards of "{}": standfast {} --merge)",
                                     gathered.header->command, gathered.header->command));
    }
    require_all(gathered);
    MergedShards merged{.header = *gathered.header, .payloads = {}, .places = {}};
    for (const Place& at : gathered.places) {
        merged.places.push_back(at.text());
    }
    for (std::optional<std::string>& payload : gathered.payloads) {
        merged.payloads.push_back(std::move(*payload));
    }
    return merged;
}

}  // namespace standfast
