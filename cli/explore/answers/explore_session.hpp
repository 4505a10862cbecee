#pragma once

#include <memory>
#include <string>
#include <string_view>

#include "cli/explore/answers/explore_input.hpp"
#include "fea/studies/explore/explored_answer.hpp"
#include "fea/studies/explore/explored_cut.hpp"

namespace standfast {

/// What the page asks and the core answers, as JSON; sizes in SI. One question at a time.
///
/// A setting is { pass, riser_height_m, stickout_m, depth_m, speed_rpm }; null: as the job has it.
///     { "ask": "start" }                       what may be turned of each pass, and how far
///     { "ask": "drawing", setting, hold, headings }   the picture and its handles; hold: see below
///     { "ask": "quick", setting, headings }    averaged edge at the strip's speeds, push-off,
///     words { "ask": "judge", setting }              begins a judgement in steps { "ask": "next" }
///     its next step: edge, level, speeds, done { "ask": "job", setting }                the job's
///     text with the setting in it { "ask": "numbers", setting, hertz, speeds_rpm }   modes,
///     receptances, edges: for comparison
/// An answer that cannot be given is { "error": "..." }.
///
/// `headings` of a drawing or quick look are those of the last judgement of the pass (rad: of the
/// edge, of the wall); without them, those of the job as it stands: to look for the worst anew
/// would take too long while something is dragged.
///
/// `hold` of a drawing is the `view` of an earlier one: the same scale and place, so that a dragged
/// handle stays under the pointer; with "still": "tool" the spindle stays where it was instead of
/// the table.
class ExploreSession {
public:
    explicit ExploreSession(ExploreInput input);

    /// Never throws for anything that is asked.
    std::string answer(std::string_view question);

private:
    ExploreInput input_;
    ExploredJob explored_;
    std::unique_ptr<ExploredAnswer> judged_;

    friend class ExploreAnswers;
};

}  // namespace standfast
