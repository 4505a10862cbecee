#pragma once

#include <nlohmann/json_fwd.hpp>
#include <vector>

#include "fea/job/edits/edit.hpp"
#include "materials/units.hpp"

namespace standfast {

/// Edits as the document's `set`: path to value, in the chosen units, to be pasted into the job; a
/// place is a list.
/// @param job  before the edits
nlohmann::ordered_json set_json(const Job& job, const std::vector<Edit>& edits, UnitSystem units);

}  // namespace standfast
