#pragma once

#include <optional>
#include <string>

#include "fea/job/job.hpp"
#include "fea/judgement/answer/report.hpp"

namespace standfast {

/// What one reason says of the pass: a clause with its figures and no full stop, as in
/// "chatter begins at 7.5 mm deep and the pass takes 20 mm". Also for reasons that are not
/// flagged.
std::string reason_text(const Job& job, const PassReport& pass, Reason reason, UnitSystem units);

/// Names of the reasons that are flagged, "chatter, holding"; empty where none is.
std::string reasons_text(const PassReport& pass);

/// The wall error that nine in ten tries stay under, with the word for its sign, or "either way".
std::string wall_of_tries_text(const WallTries& wall, UnitSystem units);

/// m, at the judged speed, that nine in ten tries hold; none where that is as deep as was searched.
/// The tries of the judged depth itself, which are more, overrule the quantile of the edges.
std::optional<double> held_depth(const PassReport& pass);

/// Whether the verdict names the reason.
bool is_flagged(const PassReport& pass, Reason reason);

}  // namespace standfast
