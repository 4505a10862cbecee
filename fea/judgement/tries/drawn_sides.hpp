#pragma once

#include <vector>

#include "fea/job/uncertainty.hpp"
#include "fea/judgement/uncertainty/sampling.hpp"
#include "fea/solution/line_receptance.hpp"
#include "fea/stack/cut_receptance.hpp"

namespace standfast {

/// What is uncertain about a side: the spread groups of its system; for measured modes their
/// stiffness and damping (10-90 % factors 1.1 and 1.25; common practice, no source); nothing where
/// it is rigid.
/// @param name  "tool" or "stack", so that measured modes of the two sides are drawn apart
/// @param own   what the job says of measured modes; a system brings its own with it
std::vector<Spread> side_spreads(const SolvedSide& side, const std::string& name,
                                 const Uncertainty& own = {});

/// The side's receptance along the cut (its own axes) for every draw, by real modes. Groups that
/// the draws do not name stay nominal. Work is shared over threads; the answer does not depend on
/// their number.
std::vector<LineReceptance> drawn_lines(const SolvedSide& side, const std::string& name,
                                        const Draws& draws);

/// Groups of several lists, each once, in order of appearance.
std::vector<Spread> merged_spreads(const std::vector<std::vector<Spread>>& lists);

/// The factor of a group in one draw; 1 where the draws do not name it.
double factor_in(const Draws& draws, Eigen::Index draw, const std::string& group);

}  // namespace standfast
