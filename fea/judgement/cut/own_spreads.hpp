#pragma once

#include <string>

#include "fea/job/uncertainty.hpp"
#include "fea/structure/assembly.hpp"

namespace standfast {

/// Puts the job's own 10-90 % factors in place of those that a side's parameters came with. A taper
/// or grip of which the job says something gets a group of its own ("taper stiffness: ..."), so
/// that it is no longer drawn with stack joints of the same name.
void use_own_spreads(AssembledSystem& system, const Uncertainty& uncertainty);

/// Whether the job says anything of its own about a side's parameters.
bool says_of_parameters(const Uncertainty& uncertainty);

/// The 10-90 % factor of a tool's runout where the job gives a reading: 1.5 unless it says
/// otherwise (common practice, no source: a reading repeats to half of itself).
double runout_spread(const Uncertainty& uncertainty, const std::string& tool);

}  // namespace standfast
