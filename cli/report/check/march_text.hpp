#pragma once

#include <string>
#include <vector>

#include "fea/judgement/answer/report.hpp"
#include "materials/units.hpp"

namespace standfast {

/// What following the pass in time showed, in shop words; empty where it was not asked for.
std::vector<std::string> march_sentences(const PassReport& pass, UnitSystem units);

/// "dies away", "period doubling", "grows", "undecided": for JSON.
std::string_view outcome_name(MarchOutcome outcome);

/// time_s, revolution, displacement_x_m ... force_z_n: tool minus part and force on the tool, tool
/// axes, from rest. At most 200,000 rows, evenly thinned.
std::string march_csv(const MarchResult& march);

}  // namespace standfast
