#pragma once

#include <string>
#include <vector>

#include "cli/options/options.hpp"
#include "fea/job/job.hpp"

namespace standfast {

/// A job and where it was read from.
struct ReadJob {
    std::string path;
    Job job;
};

/// All jobs of the command line, or none after every fault of every file was printed. Warnings go
/// to standard error.
std::vector<ReadJob> read_jobs(const Options& options);

/// Index of the pass named by --pass.
/// @throws UsageError suggesting the nearest name
std::size_t pass_named(const ReadJob& read, const std::string& name);

}  // namespace standfast
