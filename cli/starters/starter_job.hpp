#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "materials/units.hpp"

namespace standfast {

// Room "starters": jobs to start from, as text. Every one reads without an error as it is.

/// A kind of set-up that a starter is written for.
struct StarterKind {
    std::string_view name;  ///< as the command line takes it: "measured-modes"
    std::string_view what;  ///< in a few words
};

/// riser, vice, pyramid, tower, measured-modes; the first is meant where none is named.
const std::vector<StarterKind>& starter_kinds();

/// The kind that a word means ("Vise", "measured modes"), or nullptr.
const StarterKind* starter_kind(std::string_view word);

/// A commented job that runs as it is, in millimetres or in inches; the shop is invented.
/// @param kind  a name of starter_kinds()
std::string starter_job(std::string_view kind, UnitSystem units);

/// The part of a starter above its tools and passes: machine and stack.
std::string starter_stand(std::string_view kind, UnitSystem units);

}  // namespace standfast
