#pragma once

#include <string>

#include "cli/report/trade/traded_job.hpp"
#include "fea/studies/trade/trade_ways.hpp"

namespace standfast {

/// A way out besides the riser's height, with both figures: "tilt "finish the end" to 75 deg
/// instead of 60 mm more riser: 70 mm, 8 mm finisher 22 mm out, removes 8.4 cm3/min, nothing
/// flagged; without: 130 mm, 8 mm finisher 30 mm out, removes 5.1 cm3/min, marginal".
std::string way_text(const TradedJob& traded, const TradeWay& way, UnitSystem units);

}  // namespace standfast
