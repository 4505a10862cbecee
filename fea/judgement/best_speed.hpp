#pragma once

#include <optional>
#include <vector>

#include "fea/judgement/at_speed.hpp"
#include "fea/judgement/speed_window.hpp"

namespace standfast {

/// Depth and speed that a pass is asked about: given ones are kept, missing ones chosen.
///
/// A speed is worth what it removes: speed times the depth that may be recommended there. That
/// depth has margin to chatter over half a least band either side (a spindle is never at its
/// number exactly), and nothing flagged by what depends on the speed: wall error, resonance, whirl.
/// It is the programmed depth where that passes, else the largest of eight even steps below the
/// edge of chatter (or below the flute length) that does. Only offered speeds count.
/// @param limits  at the pass's stability heading, by ascending speed
/// @returns none where no offered speed has a depth with nothing flagged
std::optional<Recommendation> best_speed_and_depth(const CutProblem& problem,
                                                   const Headings& headings,
                                                   const StabilityLimits& limits,
                                                   const SpeedWindow& offered);

/// The same at one speed: the depth that may be recommended there, m.
std::optional<Recommendation> best_depth_at(const CutProblem& problem, const Headings& headings,
                                            const SpeedLimit& limit);

/// Deepest cut the cutter is made for: flute length, or 5 diameters where that is not known; m.
double deepest_cut(const Cutter& cutter);

}  // namespace standfast
