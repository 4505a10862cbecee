#pragma once

#include <string>
#include <string_view>

namespace standfast {

/// A name as lookup compares it: lower case, without spaces, hyphens, commas, underscores and dots,
/// American spellings (aluminum, gray, vise, center) made British.
std::string lookup_key(std::string_view name);

}  // namespace standfast
