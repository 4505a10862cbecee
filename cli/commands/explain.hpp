#pragma once

#include "cli/options/options.hpp"

namespace standfast {

/// `standfast explain JOB --pass NAME` with one of --sound, --heard, --marks: what the sound or the
/// marks say by themselves, what the model makes of it, and cures. @returns 0, or 2 after the
/// faults of the job were printed
/// @throws UsageError where the job, the recording or the command line cannot be used
int run_explain(const Options& options);

}  // namespace standfast
