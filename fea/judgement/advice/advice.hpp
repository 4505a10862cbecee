#pragma once

#include <memory>
#include <optional>
#include <vector>

#include "fea/judgement/answer/speed_window.hpp"
#include "fea/judgement/speed/at_speed.hpp"

namespace standfast {

/// What advice starts from: a pass, judged.
struct AdviceCase {
    const CutProblem* problem = nullptr;
    PassAnswer answer;       ///< at the judged speed and depth
    StabilityLimits limits;  ///< over all speeds, at the stability heading
    SpeedWindow offered;
    std::optional<Recommendation> best;  ///< best_speed_and_depth of the pass
    SpindleSpeed speed;                  ///< judged
    double depth = 0;                    ///< m, judged
    CutTries tries;                      ///< of the pass; none: the nominal stack alone is judged
    std::shared_ptr<const ChatterOdds> odds;  ///< of the judged depth; null: none
    OddsOptions drawn;                        ///< how the tries were drawn
};

/// Changes, and whether any of them, or of two and three together, leaves nothing flagged.
struct Advised {
    std::vector<Advice> list;
    bool nothing_reaches = false;  ///< something is flagged, could be mended, and no change does it
};

/// Changes that help, each recomputed on an edited copy of the job at the judged speed (only the
/// side that changes is solved again); those that gain less than 3 %, or make anything judged
/// worse, are left out. Those that gain most by the nominal stack are judged with the tries of the
/// pass (judge_cut), so that the level told is the one that `check` finds once it is done. Where no
/// single change leaves nothing flagged, or only one that gives up much of what the pass removes,
/// two or three changes together that do are looked for (way_out) and stand first; then single
/// ones, better levels first, among equals the greatest gain.
///
/// Gain is in what the verdict complains of first: depth margin for chatter (and where nothing is
/// flagged), wall error, holding factor, tool stress, whirl; but first of all in reach, where tool
/// or holder do not get to the cut. Never proposed: a longer stickout for another reason, a speed
/// that may not be offered, another speed where the wall error there is worse than the pass allows.
/// A shorter stickout or a lower riser brings holder and spindle nearer to the work: only as far as
/// still clears, or marked reach_unchecked where reach is not judged.
Advised advise(const AdviceCase& given);

}  // namespace standfast
