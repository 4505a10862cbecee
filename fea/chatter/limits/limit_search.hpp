#pragma once

#include <vector>

#include "fea/chatter/equation/delay_system.hpp"
#include "fea/chatter/limits/stability_limits.hpp"
#include "fea/quantities/quantities.hpp"

namespace standfast {

/// Limits of the delay equation itself (periodic, not averaged): per spindle speed the smallest
/// depth at which the largest Floquet multiplier reaches 1, how (a complex pair: quasi_periodic;
/// -1: period_doubling), the strongest line of the critical relative motion, and the stable depths
/// above the limit up to `islands_to` times it.
///
/// The depth is walked upward in steps of 3 to 60 %, the finer the farther any multiplier has moved
/// from where free vibration has it and the nearer it is to the unit circle; where the growth peaks
/// just short of zero the walk looks closer. The crossing is closed in to 1e-5 of itself and
/// followed on finer maps until one misses it by less than 5e-5, which is made good. A band of
/// instability narrower than 3 % may be missed: against a walk in steps of 0.6 %, none was in 3,300
/// limits. Islands are looked for in steps of 6 %.
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
