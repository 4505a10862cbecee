#pragma once

#include <string>

#include "cli/options/options.hpp"

namespace standfast {

/// Help of the program (Command::none) or of one command, from the tables of options.hpp.
/// @param width  columns
/// @param all    every option of the command; else those that a shop uses daily
std::string help_text(Command command, int width, bool all);

}  // namespace standfast
