#pragma once

#include <string>
#include <vector>

#include "cli/report/check/screen.hpp"
#include "cli/text/table.hpp"
#include "fea/judgement/answer/report.hpp"

namespace standfast {

/// What a screen ends with.
struct Ending {
    std::vector<std::string> not_judged;    ///< for want of a key, which each names
    std::vector<std::string> never_judged;  ///< whole sentences; by name alone where short
    std::vector<Assumption> assumed;
    Verdict verdict;  ///< what the caution is about
};

/// What was not judged, what was assumed, the caution. Short unless the assumptions are asked for;
/// then value and key of each with the number of its source, each source once, and every caution.
std::vector<Paragraph> ending_sections(const Ending& ending, const ScreenOptions& options);

}  // namespace standfast
