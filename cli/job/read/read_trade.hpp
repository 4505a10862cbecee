#pragma once

#include "cli/job/read/table_reader.hpp"

namespace standfast {

/// [[riser]] and [[holder]], the shelf, and [trade], what `standfast trade` is to look at:
///
///     tier = "riser"                          whose height is traded
///     heights = ["100 mm", "150 mm"]          or "60 mm to 200 mm by 20 mm"
///     risers = ["short", ["spacer", "short"]] names from the shelf, from the lowest up
///     stickouts = "30 mm to 80 mm by 5 mm"    or a list, or { "tool" = ..., "tool" = ... }
///     tilts = { "PASS" = "0 deg to 30 deg by 5 deg" }     the spindle's lean, toward the pass's
///     turn holders = { "TOOL" = ["slim"] }         names from the shelf materials = ["steel",
///     "6061"]           of the traded tier
///     [[trade.hold]]                          name, tier, joint, and a section, height, material
void read_trade(TableReader& root);

}  // namespace standfast
