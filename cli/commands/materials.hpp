#pragma once

#include "cli/options/options.hpp"

namespace standfast {

/// `standfast materials [NAME]`: the tables, or one row with its source. @returns the exit code
/// @throws UsageError where there is no such row (names the nearest) or the user's own table
///         cannot be used
int run_materials(const Options& options);

}  // namespace standfast
