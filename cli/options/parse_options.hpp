#pragma once

#include <string>
#include <vector>

#include "cli/options/options.hpp"

namespace standfast {

/// Command line (without the program's name) -> what the user chose, by the tables of
/// options.hpp. The command comes first.
/// @throws UsageError for anything that does not fit: unknown or missing command, unknown option
///         (with the nearest one), a value that is missing or not accepted, an argument too many
Options parse_options(const std::vector<std::string>& arguments);

}  // namespace standfast
