#pragma once

#include <string>

namespace standfast {

// What a package carries of the command line, made from the tables of commands and options, so that
// no option can be missing in it.

/// The manual page, section 1, in the man macros.
/// @param date  "2026-11-28", of the page's foot
std::string manual_page(const std::string& version, const std::string& date);

/// Completions of commands and options; file names where an option or argument takes one.
std::string bash_completion();
std::string zsh_completion();
std::string fish_completion();

}  // namespace standfast
