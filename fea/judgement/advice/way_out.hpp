#pragma once

#include <optional>
#include <vector>

#include "fea/judgement/advice/advice_candidates.hpp"

namespace standfast {

/// Two or three changes made together (stiffness, stickout, teeth, radial depth; speed; depth)
/// after which judge_cut flags nothing, or only what no change mends: the set that removes most
/// metal per minute, a further change counting as 5 % of it.
///
/// Changes to tool and stack are made alone and in pairs of the more hopeful ones; each set is
/// ranked by what the averaged limits (ranking_limits) let it remove over the offered speeds, and
/// the best few are given speed and depth by best_speed_and_depth, with the pass's tries.
/// @param changes  candidates; those of speed and depth alone are left out
/// @param least    m^3/s, that it must remove to be worth telling
/// @returns none where no such set was found
std::optional<Advice> way_out(const AdviceCase& given, const std::vector<Candidate>& changes,
                              double least);

}  // namespace standfast
