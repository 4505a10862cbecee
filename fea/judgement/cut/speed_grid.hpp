#pragma once

#include <vector>

#include "fea/chatter/limits/stability_limits.hpp"
#include "fea/quantities/quantities.hpp"

namespace standfast {

/// Spindle speeds to look at, ascending, ends included. Half of them are spread evenly in 1/rpm
/// (as lobes are) and half by an even ratio, as one smooth density: evenly in 1/rpm alone, 400
/// speeds from 500 to 12000 rpm would lie 6 % apart at the fast end, where a quiet band may be 2 %
/// wide.
/// @throws std::domain_error unless 0 < slowest <= fastest and count >= 2
std::vector<SpindleSpeed> default_speeds(SpindleSpeed slowest, SpindleSpeed fastest, int count);

/// Speeds to add, at most `count`: midway (in 1/rpm) to both neighbours of each local minimum of
/// the limit, the lowest minima first. That is where a lobe's bottom may hide between two speeds.
/// @param limits  by ascending speed
std::vector<SpindleSpeed> speeds_near_minima(const StabilityLimits& limits, int count);

/// Both lists in one, ascending, without doubles.
std::vector<SpindleSpeed> merge_speeds(std::vector<SpindleSpeed> a,
                                       const std::vector<SpindleSpeed>& b);

}  // namespace standfast
