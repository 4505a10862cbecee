#pragma once

#include <cstddef>
#include <string>
#include <string_view>

#include "materials/units.hpp"

namespace standfast {

/// A number to so many significant digits, never in exponent form above 1e-4: "7850", "0.29".
std::string figure(double value, int digits = 3);

/// A value in SI as a figure with a unit that parse_quantity reads: "205 GPa".
std::string figure_in(double value, Quantity quantity, std::string_view unit, int digits = 3);

/// Text broken at spaces to lines of at most `width` columns, each after `indent` spaces. A word
/// longer than a line stays whole. Ends with a line break unless empty.
std::string wrapped(std::string_view text, std::size_t indent, std::size_t width = 90);

/// Columns a UTF-8 text takes, one per character.
std::size_t columns(std::string_view text);

/// The text with spaces after it up to `width` columns.
std::string padded(std::string_view text, std::size_t width);

/// The text cut to `width` columns, ending in "..." if something was left out.
std::string shortened(std::string_view text, std::size_t width);

}  // namespace standfast
