#pragma once

#include <cstdint>
#include <string>

#include "cli/explore/answers/explore_input.hpp"
#include "fea/judgement/answer/report.hpp"
#include "fea/judgement/uncertainty/chatter_odds.hpp"

namespace standfast {

/// What the page of a job carries.
/// @param path    of the job file, whose text is kept with it
/// @param report  of check: where it judged passes that ask for speed or depth. Passes that it does
///                not hold begin as programmed, else at the middle of the offered speeds and half
///                the cutter's diameter
ExploreInput make_explore_input(const std::string& path, const Job& job, const JobReport& report,
                                StabilityMethod method, const OddsOptions& odds, UnitSystem units);

}  // namespace standfast
