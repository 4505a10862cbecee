#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "cli/report/trade/traded_job.hpp"
#include "materials/units.hpp"

namespace standfast {

std::string_view limited_by_name(LimitedBy limit);  ///< "reach", "rigidity", "list"

/// What holds a pass back, with its figure: "your list: ...; 64 mm would clear".
std::string held_by_text(const TradePass& pass, UnitSystem units);

/// m, the usable depth; none where there is none.
std::optional<double> depth_left(const TradePass& pass);

/// The pass with the least usable depth for its own: the one that the curve is about.
const TradePass& weakest_pass(const TradeResult& result);

/// Why a pass is at its level: a clause with its figures.
std::string trade_pass_text(const TradePass& pass, UnitSystem units);

/// The level of an option in words: that of its worst pass, with the reason.
std::string trade_option_text(const TradeResult& result, UnitSystem units);

/// The same at the best speeds and usable depths of its passes.
std::string best_level_text(const TradeResult& result, UnitSystem units);

/// "150 mm riser": what an option is called on the screen, heights in the chosen units.
std::string option_name(const TradeResult& result, UnitSystem units);

/// "long finisher 58 mm out, rougher 40 mm out".
std::string stickouts_text(const TradeResult& result, UnitSystem units);

/// What to take and what it does, in a sentence or two.
std::string best_text(const TradedJob& traded, UnitSystem units);

/// What a near-tie costs: "4 % less metal, 3.2 kg lighter".
std::string tie_text(const TradedJob& traded, const TradeTie& tie, UnitSystem units);

/// Why the stickout is longer than need be.
std::string tuned_text(const TunedStickout& tuned, UnitSystem units);

/// How the edges of chatter and the best speeds were had, what was left out, and how far the whole
/// moved when it was told by other tries.
std::string method_text(const TradedJob& traded);

/// Metal over time: "4.2 cm3/min", "0.26 in3/min".
/// @param removal  m^3/s
std::string removal_text(double removal, UnitSystem units);
std::string removal_number(double removal, UnitSystem units);  ///< without its unit

/// What was not judged in any option or ever.
std::vector<std::string> not_judged_of(const TradedJob& traded);

}  // namespace standfast
