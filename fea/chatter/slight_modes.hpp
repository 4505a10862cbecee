#pragma once

#include "fea/chatter/delay_system.hpp"

namespace standfast {

/// The system with the modes at rest that hardly answer: those whose receptance at their own peak,
/// where they are softest along the edge, is below `share` of the largest of any mode; and those
/// that are more than twice as fast as the fastest mode of a hundredth of it, at whose frequencies
/// they are all but static. Their static compliance stays. What is left is solved in a fraction of
/// the time, since the highest modes set the steps; limits move by less than 1e-3 at a share of
/// 3e-3 (measured in tests). Motion along the tool's axis counts only where the chip feels it
/// (corner radius, ball).
DelaySystem without_slight_modes(const DelaySystem& system, double share);

}  // namespace standfast
