#pragma once

#include <string>

#include "fea/judgement/answer/report.hpp"
#include "materials/units.hpp"

namespace standfast {

/// Whether the tool gets to its cut, what is in the way, and from which stickout or riser height
/// on it clears; one clause without a full stop.
std::string reach_text(const Job& job, const PassReport& report, UnitSystem units);

}  // namespace standfast
