#pragma once

#include <optional>
#include <vector>

#include "fea/judgement/answer/speed_window.hpp"
#include "fea/judgement/speed/at_speed.hpp"

namespace standfast {

/// Depth and speed that a pass is asked about: given ones are kept, missing ones chosen.
///
/// A speed is worth what it removes: speed times the depth that may be recommended there. That
/// depth is one at which judge_cut flags nothing, but for what no speed and depth can mend
/// (nothing_to_mend), and the edge of chatter leaves it room over half a least band either side (a
/// spindle is never at its number exactly). It is the programmed depth where that passes, else the
/// deepest of a row of steps below the edge of chatter (or below the flute length) that does. Only
/// offered speeds count. Depths are looked at with the nominal stack first; those that pass are
/// tried, the promising speeds only.
/// @param limits  at the pass's stability heading, by ascending speed
/// @param tries   of the pass; none: the nominal stack alone is judged
/// @param odds    of the programmed depth, to tell promising speeds by; null: not known
/// @returns none where no offered speed has such a depth
std::optional<Recommendation> best_speed_and_depth(
    const CutProblem& problem, const Headings& headings, const StabilityLimits& limits,
    const SpeedWindow& offered, const CutTries& tries = {}, const ChatterOdds* odds = nullptr);

/// The same at one speed: the depth that may be recommended there, m.
std::optional<Recommendation> best_depth_at(const CutProblem& problem, const Headings& headings,
                                            const SpeedLimit& limit, const CutTries& tries = {});

/// Limit at each speed, lowered to the smallest within half a least band: a spindle is never at its
/// number exactly.
std::vector<SpeedLimit> with_neighbours(const StabilityLimits& limits, double least_band);

/// Whether nothing that depends on the speed is flagged, with the tries, at one speed and depth.
bool quiet_at(const CutProblem& problem, const Headings& headings, const CutTries& tries,
              const SpeedLimit& limit, double depth);

/// Whether all that is flagged is what neither speed, depth nor stiffness mends: a hold that is not
/// judged, weight, and what is in the way of tool or holder, which has advice of its own.
bool nothing_to_mend(const PassAnswer& answer, const Limits& limits);

/// Deepest cut the cutter is made for: flute length, or 5 diameters where that is not known; m.
double deepest_cut(const Cutter& cutter);

}  // namespace standfast
