#pragma once

#include "fea/judgement/cut/cut_problem.hpp"
#include "fea/judgement/pass/check.hpp"

namespace standfast {

/// Everything that the report says of one pass.
PassReport report_pass(const CutProblem& problem, const CheckOptions& options);

/// What no pass and this pass in particular were not judged for, in plain words.
std::vector<std::string> never_judged();
std::vector<std::string> not_judged_here(const Job& job, const PassReport& report);

}  // namespace standfast
