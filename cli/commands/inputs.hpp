#pragma once

#include <string>
#include <vector>

#include "cli/options/options.hpp"

namespace standfast {

/// Every file that this command line reads: jobs with all that they use, overlay, materials,
/// recordings, a program, files of shards.
std::vector<std::string> files_read(const Options& options);

/// Refuses to write where it reads, whatever --force says: another name or a link to the same file
/// counts as the same.
/// @param outputs  files that are to be written
/// @throws UsageError naming both
void refuse_inputs(const Options& options, const std::vector<std::string>& outputs);

/// Refuses, before anything is computed, a file to write whose folder is not there or that is a
/// folder itself, and a folder for CSV where a file stands.
/// @throws UsageError
void refuse_unfit_places(const Options& options);

/// The files that the options themselves name for writing: page, overlay, lines of a shard.
std::vector<std::string> files_named_for_writing(const Options& options);

}  // namespace standfast
