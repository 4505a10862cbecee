#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "cli/files/usage_error.hpp"

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

/// A line that is none of a shard: what() without the place.
class BadShardLine : public UsageError {
public:
    BadShardLine(const std::string& reason, std::size_t column)
        : UsageError(reason), column_(column) {}
    std::size_t column() const { return column_; }  ///< from 1, in bytes

private:
    std::size_t column_;
};

/// Reads a line back.
/// @throws BadShardLine saying what is wrong and where in the line
ShardLine parse_line(std::string_view text);

/// Answers of all units, in order.
struct MergedShards {
    ShardHeader header;
    std::vector<std::string> payloads;
    std::vector<std::string> places;  ///< "share-1.jsonl:3:98" of each, where its payload begins
};

/// Joins the lines of files.
/// @throws UsageError naming file, line and column where a line is torn or not ours, a unit is
/// there twice
///         or missing, or a line belongs to another run (version, inputs, seed, command, count)
MergedShards merge_shards(const std::vector<std::string>& paths, std::string_view command);

}  // namespace standfast
