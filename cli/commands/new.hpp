#pragma once

#include "cli/options/options.hpp"

namespace standfast {

/// `standfast new [FILE]`: writes the starter job. @returns the exit code
/// @throws UsageError where the file is there already and --force is not given
int run_new(const Options& options);

}  // namespace standfast
