#pragma once

#include <vector>

#include "fea/stack/stack_model.hpp"

namespace standfast {

/// Heights (m, tier axes, ascending) at which each tier's column needs a node: foot, top, where a
/// guest, a support or a side mass holds on, and where a cut is judged. Neighbours closer than a
/// millionth of the tier's height are one. A rigid body needs its foot only.
/// @throws std::domain_error naming the tier or support where a height is not physical, or a cut
///         lies beyond its tier
std::vector<std::vector<double>> wanted_heights(const Stack& stack,
                                                const std::vector<TierFrame>& frames,
                                                const std::vector<CutHeights>& cuts);

}  // namespace standfast
