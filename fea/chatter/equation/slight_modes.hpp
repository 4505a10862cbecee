#pragma once

#include "fea/chatter/equation/delay_system.hpp"

namespace standfast {

/// The system with the modes at rest that hardly answer: those whose receptance at their own peak,
/// where they are softest along the edge, is below `share` of the largest of any mode; and those
/// that are more than twice as fast as the fastest mode of a hundredth of it, at whose frequencies
/// they are all but static. Their static compliance stays. What is left is solved in a fraction of
/// the time, since the highest modes set the steps; limits move by less than 1e-3 at a share of
/// 3e-3 (measured in tests). Motion along the tool's axis counts only where the chip feels it
/// (corner radius, ball).
DelaySystem without_slight_modes(const DelaySystem& system, double share);

/// The same for cuts up to a depth (m): what is fast is besides judged by whether a mode could
/// sing there at all. In the averaged theory a mode alone is stable at every speed while its loop
/// gain 2 depth |A0| |G(its peak)| is below 1; those below `least_gain` are static where they are
/// more than twice as fast as the fastest of the others and as the strongest of all.
/// @param least_gain  1: what can sing by itself in the averaged theory; less, for the cut that
///                    comes and goes, in which less than that may sing
DelaySystem without_slight_modes(const DelaySystem& system, double share, double depth,
                                 double least_gain);

}  // namespace standfast
