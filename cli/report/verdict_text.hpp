#pragma once

#include <string>

#include "fea/job/job.hpp"
#include "fea/judgement/report.hpp"

namespace standfast {

/// The verdict as a foreman would say it: one to three sentences, the gravest reason first, each
/// with the figure and what it is held against. Never "nothing flagged" where the hold was not
/// judged.
std::string verdict_text(const Job& job, const PassReport& pass, UnitSystem units);

/// What one reason says of the pass: a clause with its figures and no full stop, as in
/// "chatter begins at 7.5 mm deep and the pass takes 20 mm". Also for reasons that are not
/// flagged.
std::string reason_text(const Job& job, const PassReport& pass, Reason reason, UnitSystem units);

/// Whether the verdict names the reason.
bool is_flagged(const PassReport& pass, Reason reason);

}  // namespace standfast
