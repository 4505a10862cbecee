#pragma once

#include <string>

#include "cli/text/table.hpp"
#include "fea/studies/fit/measuring_plan.hpp"
#include "materials/units.hpp"

namespace standfast {

/// What to measure next in shop words: in the order in which to do it, with load, place, what the
/// dial should show, whether it can, and how much surer the edge of chatter is afterwards.
std::string plan_text(const Job& job, const MeasuringPlan& plan, UnitSystem units,
                      const Page& page);

/// standfast.plan/1: pass, limit_m, spread, readings[]{name, kind, where, tier, at_m[],
/// direction[], against, force_n, expected_m, expected_hz[], resolved, spread_before,
/// spread_after}, cautions[].
std::string plan_json(const Job& job, const MeasuringPlan& plan);

}  // namespace standfast
