#pragma once

#include <functional>
#include <string>
#include <vector>

#include "cli/options/options.hpp"
#include "cli/shards/shard_lines.hpp"

namespace standfast {

/// Fingerprint of what an answer depends on: every file that was read, and the options that change
/// figures. Of the jobs with all that they use, and of an overlay, comments and layout do not
/// count; materials of the shop and measurements count byte by byte, whatever they are called.
/// @param measurements  receptances and recordings that the jobs name (ReadResult::measurements)
/// @param also          what else the answer depends on
/// @throws UsageError where a file cannot be read
std::string inputs_fingerprint(const Options& options, const std::vector<std::string>& measurements,
                               const std::string& also);

/// Does the share K of N of a run (unit u belongs to it where u mod N = K - 1) and writes one line
/// for each unit: to --out, where units that are there already are not computed again and a torn
/// last line is cut off, else to standard output.
/// @param payload  a unit's answer as JSON
/// @returns 0
/// @throws UsageError where --out holds lines of another run, or something else, unless --force
int run_shard(const ShardHeader& header, const Options& options,
              const std::function<std::string(std::size_t)>& payload);

}  // namespace standfast
