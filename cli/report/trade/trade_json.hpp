#pragma once

#include <string>

#include "cli/report/trade/traded_job.hpp"
#include "materials/units.hpp"

namespace standfast {

/// The trade of one job as one JSON document, "schema": "standfast.trade/1"; see json.hpp for what
/// holds of every document. Options stand by height; `rank` says their order.
std::string trade_json(const TradedJob& traded, UnitSystem units);

}  // namespace standfast
