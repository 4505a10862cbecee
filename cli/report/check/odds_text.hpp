#pragma once

#include <string>
#include <vector>

#include "fea/judgement/answer/report.hpp"
#include "materials/units.hpp"

namespace standfast {

/// How sure the answer is, in shop words: how many of the tries chattered, within which range the
/// edge of chatter and the push-off lay in eight tries of ten, and which unknown matters most.
/// Empty where nothing was drawn.
std::vector<std::string> odds_sentences(const PassReport& pass, UnitSystem units);

}  // namespace standfast
