#pragma once

#include <memory>

#include "fea/judgement/advice/advice_candidates.hpp"

namespace standfast {

/// A pass with changes made to its job, ready to be judged.
struct ChangedPass {
    std::shared_ptr<const Job> job;  ///< the problem's
    CutProblem problem;
    Headings headings;
    CutTries tries;  ///< none until draw_changed
};

/// The pass with all these changes made; sides that none of them touches are taken over.
/// @throws std::domain_error where they do not fit the stack, the tool or each other
ChangedPass changed_pass(const AdviceCase& given, const std::vector<Candidate>& changes);

/// The tries of the changed pass: the same seed and count, so that each unknown that the pass had
/// before takes the same values; only what changed is drawn again. Nothing where the case has none.
void draw_changed(ChangedPass& changed, const AdviceCase& given);

/// Metal removed per second at a speed and depth, m^3/s.
double removal_rate(const CutProblem& problem, SpindleSpeed speed, double depth);

}  // namespace standfast
