#pragma once

#include <set>
#include <string>
#include <string_view>

namespace standfast {

/// A pass's name as the beginning of a file name on any system: letters, digits, "-", "_" and
/// letters beyond ASCII stay, runs of anything else become one "-"; never empty, never a device
/// name of Windows, at most 80 bytes.
std::string file_stem(std::string_view name);

/// The same, with "-2", "-3" ... where the stem is in use already (letter case does not tell
/// two files apart everywhere). Adds it to `used`.
std::string unique_stem(std::string_view name, std::set<std::string>& used);

}  // namespace standfast
