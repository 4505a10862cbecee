#pragma once

#include <optional>

#include "cli/page/chart.hpp"
#include "fea/job/job.hpp"
#include "fea/judgement/answer/report.hpp"
#include "materials/units.hpp"

namespace standfast {

/// Edge of chatter over the spindle speed, the share of tries that chatter, what is programmed and
/// what is best, quiet bands and ranges to stay off; level and reasons in the table.
Chart speed_chart(const PassReport& pass, UnitSystem units);

/// What is left on the wall over the spindle speed; gaps where the cut chatters.
Chart wall_over_speed_chart(const Job& job, const PassReport& pass, UnitSystem units);

/// What is left on the wall along its height, slowly turning and at the judged speed.
Chart wall_over_height_chart(const PassReport& pass, UnitSystem units);

/// Receptance across the wall of tool, part and both, over frequency.
Chart receptance_chart(const Job& job, const PassReport& pass, UnitSystem units);

/// Whose give the push-off is.
Chart give_chart(const PassReport& pass);

/// Which unknown the answer hangs on; none where nothing was drawn.
std::optional<Chart> unknowns_chart(const PassReport& pass);

}  // namespace standfast
