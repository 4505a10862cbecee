#pragma once

#include <string>
#include <vector>

#include "fea/judgement/answer/report.hpp"
#include "materials/units.hpp"

namespace standfast {

/// A set-up and what was computed of it.
struct ComparedJob {
    const Job* job = nullptr;
    const JobReport* report = nullptr;
};

/// One thing in words, in the order of the set-ups; "-" where one has no such thing.
struct ComparedRow {
    std::string what;
    std::vector<std::string> values;
};

struct ComparedPass {
    std::string name;  ///< in the first set-up
    std::vector<ComparedRow> rows;
};

/// Set-ups side by side: what differs among sizes, materials, joints, tools and passes, and what
/// that does. Passes of one name belong together; others by their place.
struct SideBySide {
    std::vector<ComparedRow> differences;
    std::vector<ComparedPass> passes;
};

/// @param jobs  at least one
SideBySide side_by_side(const std::vector<ComparedJob>& jobs, UnitSystem units);

/// The same as text for a screen.
/// @param width  columns
std::string side_by_side_text(const std::vector<ComparedJob>& jobs, UnitSystem units, int width);

}  // namespace standfast
