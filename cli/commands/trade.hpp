#pragma once

#include "cli/options/options.hpp"

namespace standfast {

/// `standfast trade JOB...`: reads every job, studies riser against stickout, writes; with --shard
/// a share of it as lines, with --merge FILES the whole from such lines. @returns the exit code: 0
/// computed, 3 with --strict where the best of a job is at "avoid" or nothing fits
/// @throws UsageError where a job or the command line cannot be used; then nothing was written
int run_trade(const Options& options);

}  // namespace standfast
