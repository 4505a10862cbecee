#pragma once

#include <string>
#include <vector>

#include "fea/job/edits/edit.hpp"
#include "materials/units.hpp"

namespace standfast {

/// What is written where in a job file: tier."riser".height, tier."riser".block[0],
/// tool."long finisher".cutter.stickout, pass."finish".speed.
struct EditLine {
    std::string path;
    std::vector<double> value;  ///< SI; three: a place along x, y, z; empty: see text
    Quantity quantity = Quantity::length;
    std::string text;  ///< a word instead of a number, as in joint = "solid"
};

/// An edit as lines of the job's file: the value itself, and of what moves with a tier (guests,
/// side masses, supports, places of passes; fea/job/edits/beside_tier.hpp) the new places. Of a
/// section only the sizes that change. None for what takes another's place as it stands on the
/// shelf: risers, holds, holders.
/// @param job  before the edit
std::vector<EditLine> edit_lines(const Job& job, const Edit& edit);
std::vector<EditLine> edit_lines(const Job& job, const std::vector<Edit>& edits);

/// What stands after the key: "45 mm", "3", "solid", `["10 mm", "0 mm", "82 mm"]`; exact, so that
/// the job with it reproduces the figures.
std::string line_value(const EditLine& line, UnitSystem units);

/// A path's name and key: riser and round of tier."riser".round; of a list's item the list's.
std::string key_of(const EditLine& line);

}  // namespace standfast
