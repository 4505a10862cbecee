#pragma once

#include <memory>
#include <optional>
#include <vector>

#include "fea/chatter/motion/wall_motion.hpp"
#include "fea/judgement/answer/levels.hpp"
#include "fea/judgement/answer/report.hpp"
#include "fea/judgement/cut/cut_problem.hpp"
#include "fea/judgement/cut/headings.hpp"
#include "fea/judgement/tries/cut_tries.hpp"

namespace standfast {

/// What does not depend on the spindle speed: found once for a pass and a depth.
struct SlowAnswer {
    double depth = 0;           ///< m
    double heading = 0;         ///< rad, of the feed, that stability is judged at
    double torque = 0;          ///< N m, mean over a revolution
    double slow_vibration = 0;  ///< m, peak to peak, wall-normal
    /// Hz, of the tool side; none where it is rigid
    std::optional<double> first_tool_hertz;
    std::vector<double> heights;                 ///< m from the tip, at which the wall is looked at
    std::shared_ptr<const WallMotions> motions;  ///< at the heading of the largest error
    /// Of this depth; with it chatter is judged by the share of unstable draws, else by the depth
    /// over the nominal limit.
    std::shared_ptr<const ChatterOdds> odds;
};

/// @param slowest  no speed below it will be judged
/// @param height_count  places along the wall, tip and depth included
SlowAnswer slow_answer(const CutProblem& problem, const Headings& headings, double depth,
                       SpindleSpeed slowest, int height_count);

/// One spindle speed at one depth.
struct AtSpeed {
    SpeedLimit limit;
    /// None where the depth is unstable.
    std::optional<WallMotion> motion;
    std::vector<Finding> findings;  ///< of what depends on the speed
    Verdict verdict;                ///< of those
};

/// How a cut was tried, where it was.
struct Tried {
    std::optional<TriedCut> cut;  ///< none: chatter and wall are judged by the nominal stack
    /// Standard deviations of counting by which shares of tries are taken to be larger: 0 in the
    /// verdict of a pass, 1 in what is promised, so that it holds with other tries too.
    double caution = 0;
};

/// Judges a speed whose limit is known: chatter, surface error (or deflection), resonance, whirl,
/// overspeed, cutting speed, power. The motion is that of the stable cut at nominal engagement.
/// Chatter and wall error are judged by the tries where the cut was tried; of both at one level the
/// one that spoils more tries stands first, chatter where the depth is beyond its computed limit.
/// Where rubbing is the material group's, chatter is unflagged only where a fresh edge, that does
/// not rub, need not be avoided: by the tries where there are any, else by the nominal cut.
AtSpeed judge_at_speed(const CutProblem& problem, const SlowAnswer& slow, const SpeedLimit& limit,
                       const Tried& tried = {});

/// What the shop wants to know of one pass at one speed and depth, all reasons together. Advice and
/// report share it, so that an edited job gives what the advice promised.
struct PassAnswer {
    Headings headings;
    AtSpeed at;
    std::optional<SpeedLimit> in_corner;  ///< see corner.hpp
    StaticResult statics;
    HoldingResult holding;
    ToolStressResult tool_stress;
    WeightResult weight;
    ReachResult reach;  ///< without the least stickout and riser height
    double whirl_ratio = 0;
    SpindlePower power;
    std::optional<TriedCut> tried;  ///< none: the cut was not tried
    Verdict verdict;
};
/// @param limit  of the stability heading, at the speed asked about
PassAnswer answer_pass(const CutProblem& problem, const Headings& headings, const SpeedLimit& limit,
                       double depth, const Tried& tried = {});

/// The one judgement of a cut: tried, where there are tries, and answered. The verdict of a pass,
/// best speed, advice and trade all come from here.
/// @param caution  as in Tried
PassAnswer judge_cut(const CutProblem& problem, const Headings& headings, const CutTries& tries,
                     const SpeedLimit& limit, double depth, double caution = 0);

}  // namespace standfast
