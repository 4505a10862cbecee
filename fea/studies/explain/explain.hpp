#pragma once

#include <optional>
#include <vector>

#include "fea/judgement/pass/check.hpp"
#include "fea/studies/explain/cures.hpp"
#include "fea/studies/sound/sound_finding.hpp"

namespace standfast {

/// What was found before the model is asked: from a recording, a tone or marks.
struct Evidence {
    SoundCause cause = SoundCause::unclear;
    Doubt doubt = Doubt::none;  ///< of an unclear finding
    double confidence = 0;
    SpindleSpeed shown;                    ///< the display's
    std::optional<SpindleSpeed> refined;   ///< the sound's own
    std::optional<double> hertz;           ///< the line in question
    std::vector<double> candidates;        ///< Hz, where marks leave several
    std::optional<double> told_candidate;  ///< Hz, the one that further marks tell
    SpindleSpeed ran() const { return refined.value_or(shown); }
};

enum class ModelEvidence { nothing, chatter, no_chatter };

/// What the model makes of it.
struct Explanation {
    std::optional<double> hertz;              ///< the line explained; of candidates the likeliest
    std::vector<RankedFrequency> candidates;  ///< the likeliest first
    std::vector<CauseMode> modes;             ///< that answer there, strongest first
    bool self_excited = false;                ///< chatter or period doubling, not forced
    /// Depth from which this vibration would keep itself up (regenerative_gain), m; none: at none.
    std::optional<double> keeps_up_from;
    /// Whether the model expects the pass to chatter at the speed it ran; none: no depth given.
    std::optional<bool> model_chatters;
    /// What the model's own limit speaks for, where the finding leaves it open.
    ModelEvidence speaks = ModelEvidence::nothing;
    std::vector<Cure> cures;  ///< greatest gain first
    PassReport report;        ///< of the pass at the speed it ran, on a few speeds
};

struct ExplainOptions {
    StabilityMethod method = StabilityMethod::zero_order;
    const SolidDistance* distance = nullptr;  ///< null: reach is not judged
};

/// Explains what was seen or heard of a pass by the model: which modes of which side answer at the
/// line, what the edge of chatter was at the speed it ran, and cures, each computed anew. Of
/// several candidates (marks) the likeliest is the one that the cut gives back most of
/// (regenerative_gain), unless further marks tell one. Period doubling is always computed by the
/// periodic method. Where the finding is unclear the model's own limit is evidence, never proof:
/// for chatter where the pass is deeper than it, against where it takes less than half of it.
/// Gains: of the margin to chatter where it chatters, else of the wall.
/// @throws std::domain_error where the job is not physical, or the pass does not exist
Explanation explain_pass(const Job& job, std::size_t pass, const Evidence& evidence,
                         const ExplainOptions& options = {});

}  // namespace standfast
