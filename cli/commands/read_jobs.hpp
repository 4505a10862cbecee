#pragma once

#include <string>
#include <vector>

#include "cli/options/options.hpp"
#include "fea/job/job.hpp"

namespace standfast {

/// A job, where it was read from, and the measurements that were read with it.
struct ReadJob {
    std::string path;
    Job job;
    std::vector<std::string> measurements;
};

/// All jobs of the command line, or none after every fault of every file was printed. Warnings go
/// to standard error.
std::vector<ReadJob> read_jobs(const Options& options);

/// The measurements of all of them, in order.
std::vector<std::string> measurements_of(const std::vector<ReadJob>& jobs);

/// Index of the pass named by --pass.
/// @throws UsageError suggesting the nearest name
std::size_t pass_named(const ReadJob& read, const std::string& name);

}  // namespace standfast
