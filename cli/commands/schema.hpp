#pragma once

#include "cli/options/options.hpp"

namespace standfast {

/// `standfast schema`: the JSON Schema of the job file to standard output.
int run_schema(const Options& options);

}  // namespace standfast
