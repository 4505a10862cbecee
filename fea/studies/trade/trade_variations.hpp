#pragma once

#include <string>

#include "fea/studies/trade/trade_options.hpp"

namespace standfast {

/// Adds to the risers of a grid what the job's [trade] varies besides them: holds, materials of the
/// traded tier (not of risers from the shelf), holders, tilts, each with all that stood before it.
/// What cannot be made on the job is left out with a note.
/// @throws std::domain_error as trade_grid
void add_variations(TradeGrid& grid, const Job& job);

/// To two decimals, without trailing zeros: 12.5.
std::string to_hundredths(double value);

}  // namespace standfast
