#pragma once

#include <vector>

#include "fea/judgement/tries/pass_odds.hpp"
#include "fea/studies/trade/trade_pass_case.hpp"

namespace standfast {

/// One tool at its stickouts.
using TradedTools = std::vector<TradedTool>;

/// The draws of an option's passes, with each at a stickout of its tool.
/// @param stickout  per pass
/// @param works     work sides of this option drawn so far
JobDraws draw_option(const std::vector<TradePassCase>& cases, const std::vector<TradedTools>& tools,
                     const std::vector<std::size_t>& stickout, TradeTries& tries,
                     DrawnSides& works);

/// A problem with the draws of its pass.
CutProblem with_draws(CutProblem problem, const JobDraws& drawn);

/// How far apart the tries are in the frequency that matters most to a pass: standard deviation of
/// its logarithm. That frequency is the one whose mode, by itself, gives most at its peak.
double frequency_spread(const TradePassCase& of, const TradedTool& tool, const JobDraws& drawn);

}  // namespace standfast
