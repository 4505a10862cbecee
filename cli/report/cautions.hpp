#pragma once

#include <string>
#include <vector>

namespace standfast {

/// What every output form says: an estimate, no permission; holding, breakage, overspeed; who
/// decides instead. Whole sentences, gravest last.
const std::vector<std::string>& cautions();

/// The same in one line, for a form that has room for no more.
const std::string& short_caution();

}  // namespace standfast
