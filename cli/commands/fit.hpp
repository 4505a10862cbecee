#pragma once

#include "cli/options/options.hpp"

namespace standfast {

/// `standfast fit JOB`: what was measured at the machine -> factors on the joints, shown, as JSON,
/// or saved as an overlay; with --modes-only the modes of a measured receptance.
/// @returns the exit code
int run_fit(const Options& options);

}  // namespace standfast
