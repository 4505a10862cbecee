#pragma once

#include <optional>

#include "fea/judgement/cut/cut_problem.hpp"
#include "fea/judgement/cut/headings.hpp"

namespace standfast {

/// What a finishing pass asks of the pass before it, and what repeating it would do.
struct FinishStock {
    /// m, the most that the pass before may leave for this one to land within its tolerance in nine
    /// of ten tries; none: not even a tenth of the radial depth that is programmed lands.
    std::optional<double> stock;
    /// m that one pass at the programmed radial depth leaves, and that a second one at the same
    /// setting takes off; computed. 0 where the wall is cut too deep: there is nothing to take.
    double left = 0, second_takes = 0;
    bool operator==(const FinishStock&) const = default;
};

/// At a speed and axial depth. The stock is looked for between a tenth of the radial depth that is
/// programmed and three times that, never more than half the cutter.
/// @param problem  with its draws; the pass has a tolerance
FinishStock finish_stock(const CutProblem& problem, const Headings& headings, SpindleSpeed speed,
                         double depth);

}  // namespace standfast
