#pragma once

#include "cli/options/options.hpp"

namespace standfast {

/// `standfast check JOB...`: reads every job, computes, writes. @returns the exit code: 0
/// computed, 3 with --strict where a pass is at "avoid"
/// @throws UsageError where a job or the command line cannot be used; then nothing was written
int run_check(const Options& options);

}  // namespace standfast
