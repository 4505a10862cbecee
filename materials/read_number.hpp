#pragma once

#include <string>
#include <string_view>

#include "materials/exact_decimal.hpp"

namespace standfast {

/// A number at the start of a text, and what follows it.
struct ReadNumber {
    WrittenNumber number;
    std::string_view rest;  ///< after the number, without leading spaces
    std::string error;      ///< empty when read; else why not, as the end of a sentence
};

/// Reads "150", "-0.3", "1e+15", ".5", "3/8", "1-1/2" or "1 1/2" at the start of the text
/// (leading spaces skipped). A comma inside the number is an error that says what to write.
ReadNumber read_number(std::string_view text);

}  // namespace standfast
