#pragma once

#include "fea/chatter/krylov.hpp"
#include "fea/chatter/period_map.hpp"
#include "fea/chatter/stability_limits.hpp"

namespace standfast {

/// Fills kind and chatter frequency of a limit from the critical motion at it: a multiplier of -1
/// is period doubling, any other a quasi-periodic one.
void describe_limit(const PeriodMap& map, const MapEigenpair& motion, SpeedLimit& limit);

}  // namespace standfast
