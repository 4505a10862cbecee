#pragma once

#include <string>

#include "cli/explore/answers/explore_input.hpp"
#include "fea/job/job.hpp"

namespace standfast {

/// The text of a job file with the places where it says the heights of tiers, the stickouts of
/// tools and the depths and speeds of passes; a depth or speed that it does not say has the place
/// where it would be said. What stands in a file that it uses has no place.
/// @param job  as read from it
JobText job_places(const std::string& path, const Job& job);

}  // namespace standfast
