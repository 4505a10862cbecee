#pragma once

#include <string>
#include <vector>

#include "cli/report/trade/traded_job.hpp"
#include "materials/units.hpp"

namespace standfast {

/// What a sentence of reasons is about, and the sentence.
struct TradeReason {
    std::string about;  ///< name of an option
    std::string text;
};

/// Why the option taken and not its neighbours in height, of the pass with least in hand: what
/// tool and stack give, which mode sings and which way it moved, what reach forced.
std::vector<TradeReason> reasons_of(const TradedJob& traded, UnitSystem units);

/// Heights near the best that lose less than a tenth, for who cuts the riser to length: which to
/// saw first, and what that asks of the stickouts. Empty where the risers are not of one kind.
std::string saw_text(const TradedJob& traded, UnitSystem units);

/// What each finishing pass of the option taken asks of the pass before it, and what a second pass
/// at the same setting takes off.
std::vector<TradeReason> stock_of(const TradedJob& traded, UnitSystem units);

/// How many stickouts of each tool were left out with the option taken, and why.
std::vector<std::string> left_out_of(const TradedJob& traded);

}  // namespace standfast
