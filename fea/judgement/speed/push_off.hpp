#pragma once

#include "fea/judgement/answer/report.hpp"
#include "fea/judgement/cut/cut_problem.hpp"

namespace standfast {

/// Slow-cut push-off of a pass at one feed heading: displacements of tool and part under the mean
/// force, error on the wall under the force at the moment when the edge generates it, and whose
/// give that error is.
///
/// Shares: mutual energy of that force with a unit load along the wall's normal, tool side and work
/// side together; they sum to 1 and may be negative. A side known by its modes counts as one
/// member. Where no force acts across the wall at that moment (a straight edge that leaves the
/// cut), the shares are those under the mean force; where nothing gives, there are none.
/// Source: unit-load theorem; give.hpp.
StaticResult push_off(const CutProblem& problem, double heading, double depth);

}  // namespace standfast
