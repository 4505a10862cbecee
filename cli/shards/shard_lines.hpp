#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace standfast {

/// What every line of a shard says of the run it belongs to; lines with different headers do not
/// go together.
struct ShardHeader {
    std::string command;  ///< "trade"
    std::string version;
    std::string inputs;  ///< fingerprint of all that the answer depends on
    std::uint64_t seed = 1;
    std::size_t units = 0;  ///< of the whole run

    bool operator==(const ShardHeader&) const = default;
};

/// One unit's answer, one line of JSON.
struct ShardLine {
    ShardHeader header;
    std::size_t unit = 0;
    std::string payload;  ///< JSON, compact
};

/// The line, ending in a line feed.
std::string line_text(const ShardLine& line);

/// Reads a line back.
/// @throws UsageError saying what is wrong, without the place
ShardLine parse_line(std::string_view text);

/// Answers of all units, in order.
struct MergedShards {
    ShardHeader header;
    std::vector<std::string> payloads;
    std::vector<std::string> places;  ///< "share-1.jsonl:3" of each
};

/// Joins the lines of files.
/// @throws UsageError naming file and line where a line is torn or not ours, a unit is there twice
///         or missing, or a line belongs to another run (version, inputs, seed, command, count)
MergedShards merge_shards(const std::vector<std::string>& paths, std::string_view command);

}  // namespace standfast
