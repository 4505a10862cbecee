#pragma once

#include <optional>

#include "fea/job/job.hpp"
#include "fea/judgement/answer/report.hpp"
#include "fea/judgement/uncertainty/wall_tries.hpp"

namespace standfast {

/// Level of a quantity that gets worse as it grows.
Level level_above(double value, double marginal, double avoid);

/// Level and reason of one quantity.
struct Finding {
    Level level = Level::unflagged;
    Reason reason = Reason::chatter;
};

/// Programmed depth over the stability limit; a limit that was not found within the searched depth
/// is no reason.
Finding judge_chatter(double depth, const std::optional<double>& limit, const Limits& limits);

/// Share of draws that are unstable at the depth, against the limits of chatter probability.
Finding judge_chatter_odds(double unstable_share, const Limits& limits);

/// A level of chatter that rests on rubbing of the flank which nobody has measured: where a fresh
/// edge is at `avoid`, `marginal` at best.
Level with_rubbing_unmeasured(Level level, Level fresh_edge);

/// The same of a depth whose computed limit is known too: beyond it a cut is never unflagged.
Finding judge_chatter_tried(double depth, const std::optional<double>& limit, double unstable_share,
                            const Limits& limits);

/// Largest error that the pass allows, either way, m: half its total tolerance; without one, for a
/// roughing pass, the stock it should leave (error that large would reach the finished wall, or
/// double what the next pass meets). None: the error is judged as plain deflection.
std::optional<double> allowed_error(const Pass& pass);

/// Surface error (m, either sign) against the tolerance or the stock to leave (reason
/// surface_error), else against the limits of deflection (reason deflection).
Finding judge_error(double error, const Pass& pass, const Limits& limits);

/// Wall error by the tries, against the limits of chatter probability: the level follows the share
/// of tries that are outside the tolerance (beyond the stock to leave). Where there is neither, so
/// that the size itself is judged: avoid where that share of the tries reaches deflection_avoid,
/// marginal also where most of them reach deflection_marginal.
/// @param caution  standard deviations of counting by which the share is taken to be larger
Finding judge_wall_tries(const WallTries& wall, const Pass& pass, const Limits& limits,
                         double caution = 0);

/// Share of the tries that miss what is allowed: outside the tolerance or the stock to leave, else
/// at deflection_avoid or beyond.
double share_outside(const WallTries& wall, const Pass& pass, const Limits& limits);

/// Vibration of the stable cut: peak to peak (m) and its own value in a very slow cut. Flagged only
/// where the vibration has grown by the limit's factor and is large enough to matter, so that
/// nearness of a frequency alone is never a reason.
Finding judge_resonance(double peak_to_peak, double slow_peak_to_peak, const Limits& limits);

/// Holding: a pass whose holding is not judged is marginal at best, so that it is never printed as
/// "nothing flagged"; so is one whose weakest joint could not be judged.
Finding judge_holding_level(const HoldingResult& holding, const Limits& limits);

/// Marginal where something comes nearer than the clearance wanted or the shank would rub; avoid
/// where solids meet or the machine does not get there. Reach that is not judged is no reason.
Finding judge_reach_level(const ReachResult& reach);

Finding judge_tool_stress_level(const ToolStressResult& stress, const Limits& limits);

/// Asked over given; a spindle of which neither power nor torque is known is no reason.
Finding judge_power_level(const SpindlePower& power, const Limits& limits);

/// @param ratio  spindle frequency over the first frequency of the tool side
Finding judge_whirl(double ratio, const Limits& limits);

Finding judge_weight_level(const WeightResult& weight, const Limits& limits);

/// Adds a finding to a verdict: the gravest level wins, its reasons stand first; within a level
/// they keep the order in which they were added. Unflagged findings leave no reason.
void add_finding(Verdict& verdict, const Finding& finding);

/// Verdict of many findings, in order.
Verdict verdict_of(const std::vector<Finding>& findings);

}  // namespace standfast
