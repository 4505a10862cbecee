#pragma once

#include <string>

#include "fea/job/job.hpp"
#include "fea/judgement/answer/report.hpp"

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

}  // namespace standfast
