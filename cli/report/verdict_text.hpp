#pragma once

#include <optional>
#include <string>

#include "fea/job/job.hpp"
#include "fea/judgement/report.hpp"

namespace standfast {

/// "With joints measured on something else (riser 210 mm high there, 150 mm here): "; empty where
/// no overlay from elsewhere was taken.
std::string elsewhere_sentence(const Job& job);

/// The verdict as a foreman would say it: the gravest reason with its figure and what it is held
/// against. Never "nothing flagged" where the hold was not judged.
std::string verdict_sentence(const Job& job, const PassReport& pass, UnitSystem units);

/// Whether the verdict's sentence holds all that reason_text would say of the reason.
bool says_everything_of(const PassReport& pass, Reason reason);

/// The sentence, and the names of the other reasons, for who sees no list of them.
std::string verdict_text(const Job& job, const PassReport& pass, UnitSystem units);

/// What one reason says of the pass: a clause with its figures and no full stop, as in
/// "chatter begins at 7.5 mm deep and the pass takes 20 mm". Also for reasons that are not
/// flagged.
std::string reason_text(const Job& job, const PassReport& pass, Reason reason, UnitSystem units);

/// The wall error that nine in ten tries stay under, with the word for its sign, or "either way".
std::string wall_of_tries_text(const WallTries& wall, UnitSystem units);

/// m, at the judged speed, that nine in ten tries hold; none where that is as deep as was searched.
/// The tries of the judged depth itself, which are more, overrule the quantile of the edges.
std::optional<double> held_depth(const PassReport& pass);

/// Whether the verdict names the reason.
bool is_flagged(const PassReport& pass, Reason reason);

}  // namespace standfast
