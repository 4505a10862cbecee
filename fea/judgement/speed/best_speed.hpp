#pragma once

#include <optional>
#include <vector>

#include "fea/judgement/answer/speed_window.hpp"
#include "fea/judgement/speed/at_speed.hpp"
#include "fea/judgement/speed/speed_search.hpp"

namespace standfast {

/// Depth and speed that a pass is asked about: given ones are kept, missing ones chosen.
///
/// A speed is worth what it removes: speed times the depth that may be recommended there. That
/// depth is the deepest, to 1 %, at which judge_cut flags nothing, but for what no speed and depth
/// can mend (nothing_to_mend), within half a least band either side (a spindle is never at its
/// number exactly); never more than the programmed depth, where there is one. Only offered speeds
/// count. Where there are tries, speeds are looked for with a few of them (search_speeds) and what
/// is found is tried with all; else the most hopeful of the limits are looked at, with margin.
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

/// The best of speeds that a search with a few tries found, tried with all.
/// @param found  the best first
std::optional<Recommendation> confirmed_speed(const CutProblem& problem, const Headings& headings,
                                              const std::vector<HeldSpeed>& found,
                                              const CutTries& tries);

/// The limit at a speed, lowered to the smallest of those half a least band either side.
SpeedLimit limit_about(const CutProblem& problem, double heading, SpindleSpeed speed);

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
