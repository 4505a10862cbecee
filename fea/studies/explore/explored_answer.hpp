#pragma once

#include <cstddef>
#include <vector>

#include "fea/judgement/speed/at_speed.hpp"
#include "fea/judgement/tries/cut_tries.hpp"
#include "fea/studies/explore/explored_cut.hpp"

namespace standfast {

/// A setting judged in full, a step at a time, so that each can be shown as soon as it is there:
/// the same functions with the same tries as check_job. Reach is not judged.
class ExploredAnswer {
public:
    enum class Step {
        edge,    ///< edge of chatter and push-off at the setting's speed
        level,   ///< tries, level and reasons at the setting's speed and depth
        speeds,  ///< edges, tries and levels at some more of the strip's speeds that may be offered
        done
    };

    ExploredAnswer(ExploredCut cut, const OddsOptions& odds);

    /// Does the next step and says which it was; `done`: nothing was left to do.
    Step next();

    /// As far as it is known: what report_pass says of the setting's speed and depth, and from the
    /// steps over the speeds `stability` and `speeds`, ascending. Best speed, advice, bands, wall
    /// over the speeds and reach are left out.
    const PassReport& report() const { return report_; }
    const Job& job() const { return *cut_.job; }
    /// Speeds of the strip that are still to come.
    std::size_t speeds_left() const { return speeds_left_.size(); }

private:
    void find_edge();
    void judge();
    void judge_some_speeds();

    ExploredCut cut_;
    OddsOptions odds_;
    Headings headings_;
    CutTries tries_;
    SlowAnswer slow_;
    PassReport report_;
    Step after_ = Step::edge;
    std::vector<SpindleSpeed> speeds_left_;  // the last comes first
};

}  // namespace standfast
