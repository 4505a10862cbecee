#pragma once

#include <vector>

#include "fea/chatter/delay_system.hpp"
#include "fea/chatter/stability_limits.hpp"
#include "fea/quantities/quantities.hpp"

namespace standfast {

/// Limits of the delay equation itself (periodic, not averaged): per spindle speed the smallest
/// depth at which the largest Floquet multiplier reaches 1, how (a complex pair: quasi_periodic;
/// -1: period_doubling), the strongest line of the critical relative motion, and the stable depths
/// above the limit up to `islands_to` times it.
///
/// The depth is scanned upward in geometric steps of 2 to 8 %, the finer the nearer the multiplier
/// is to 1, from a depth that is stable beyond doubt; the crossing is then closed in to 1e-5 of
/// itself, and the map refined until the limit settles to 1e-4. A band of instability narrower
/// than the steps may be missed; in the reference cases none is.
/// Speeds are worked on in parallel; the answer does not depend on the number of threads.
///
/// @param speeds       any order, each > 0
/// @param searched_to  m; none is reported as the limit if the cut is stable that far
/// @throws std::domain_error if something is not usable
StabilityLimits periodic_limits(const DelaySystem& system, const std::vector<SpindleSpeed>& speeds,
                                double searched_to, double islands_to = 2.0);

/// The same at one speed.
SpeedLimit periodic_limit(const DelaySystem& system, SpindleSpeed speed, double searched_to,
                          double islands_to = 2.0);

}  // namespace standfast
