#pragma once

#include <set>
#include <string>
#include <vector>

#include "cli/report/common/csv.hpp"
#include "cli/report/trade/traded_job.hpp"

namespace standfast {

/// The trade of one job as CSV: STEM-grid.csv (a row for each option, pass and stickout),
/// STEM-options.csv (a row for each option and pass at the stickout chosen) and, where every speed
/// was computed, STEM-limits.csv. An empty field is none.
std::vector<OutputFile> trade_csv(const TradedJob& traded, const std::string& stem);

}  // namespace standfast
