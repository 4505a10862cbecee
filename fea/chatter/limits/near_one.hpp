#pragma once

#include "fea/chatter/map/krylov.hpp"
#include "fea/chatter/map/period_map.hpp"

namespace standfast {

/// What one map says of the stability of its cut.
struct MapLook {
    double growth = 0;  ///< magnitude of the largest multiplier
    bool told = true;   ///< false: too near 1 for this map to tell on which side
};

/// Whether the multipliers of a map that only approximates the cut (few points, one height) lie
/// beyond what it may be off by. A multiplier is off by no more than a share of what the cut does
/// to it: slow modes of a heavy stack are near 1 however light the cut, and stay where they are.
/// @param doubt  ln magnitude beyond which every multiplier is believed
/// @param share  nearer to 1 those are believed whose ln magnitude exceeds this share of how far
///               the cut moved them from where free vibration of the mode that leads them has them
MapLook look_at(const PeriodMap& map, double doubt, double share);

/// How far the cut moved a multiplier, in units of its magnitude: from exp(lambda T) of the mode
/// whose share of the displacement is largest.
double moved_by_cut(const PeriodMap& map, const MapEigenpair& pair);

}  // namespace standfast
