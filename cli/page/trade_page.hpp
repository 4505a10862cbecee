#pragma once

#include <vector>

#include "cli/page/page.hpp"
#include "cli/report/trade/traded_job.hpp"
#include "materials/units.hpp"

namespace standfast {

/// The page of trade: what to take, the map of riser against stickout, all options.
ReportPage trade_page(const std::vector<TradedJob>& jobs, UnitSystem units);

/// The map of one tool: a row for each option, a column for each stickout, in each field the depth
/// that may be recommended there; what does not reach is hatched, what was chosen framed.
std::string trade_map_html(const TradedJob& traded, const TradedStickouts& of, UnitSystem units);

}  // namespace standfast
