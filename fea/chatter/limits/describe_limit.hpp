#pragma once

#include "fea/chatter/limits/stability_limits.hpp"
#include "fea/chatter/map/krylov.hpp"
#include "fea/chatter/map/period_map.hpp"

namespace standfast {

/// Fills kind and chatter frequency of a limit from the critical motion at it: a multiplier of -1
/// is period doubling, any other a quasi-periodic one.
void describe_limit(const PeriodMap& map, const MapEigenpair& motion, SpeedLimit& limit);

}  // namespace standfast
