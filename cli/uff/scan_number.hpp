#pragma once

#include <optional>
#include <string_view>

namespace standfast {

/// Takes one number off the front of a text, spaces before it too. Knows what measuring programs
/// write: "1.5E-03", "1.5D-03", "1.5-103" (a three-digit exponent without its letter), "nan",
/// "inf"; numbers may stand without a space between them where the second has a sign. None where
/// there is no number; then the text stays as it was.
std::optional<double> scan_number(std::string_view& text);

}  // namespace standfast
