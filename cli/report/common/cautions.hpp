#pragma once

#include <string>
#include <vector>

#include "fea/judgement/answer/report.hpp"

namespace standfast {

/// What every output form says: an estimate, no permission; holding, breakage, overspeed; who
/// decides instead. Whole sentences, gravest last.
const std::vector<std::string>& cautions();

/// One sentence for a screen that is read every day: what can hurt with this verdict (hold, speed,
/// else breakage), always closed by who decides instead. The whole stands in cautions().
std::string caution_about(const Verdict& verdict);

/// The same in one line, for a form that has room for no more.
const std::string& short_caution();

}  // namespace standfast
