#pragma once

#include <string>

#include "cli/options.hpp"

namespace standfast {

/// Help of the program (Command::none) or of one command, from the tables of options.hpp.
/// @param width  columns
std::string help_text(Command command, int width);

}  // namespace standfast
