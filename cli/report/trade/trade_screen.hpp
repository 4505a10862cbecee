#pragma once

#include <string>

#include "cli/report/check/screen.hpp"
#include "cli/report/trade/traded_job.hpp"

namespace standfast {

/// One screen for who chooses the riser: what to take and why, the options as a table by height
/// with what holds each back, near-ties and their cost, stickouts that are longer than need be,
/// why not the others; what was not judged, what was assumed, cautions last.
std::string trade_screen(const TradedJob& traded, const ScreenOptions& options);

/// One line and the caution, for --quiet.
std::string trade_quiet(const TradedJob& traded, const ScreenOptions& options);

}  // namespace standfast
