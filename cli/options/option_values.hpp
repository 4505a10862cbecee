#pragma once

#include <string_view>
#include <vector>

#include "cli/options/options.hpp"
#include "fea/quantities/quantities.hpp"
#include "materials/units.hpp"

namespace standfast {

/// Spindle speeds of --speeds: "5100 5500 rpm" (a list, one unit at its end) or
/// "3000 to 10000 by 50 rpm" (both ends included where the step meets them). Commas may stand
/// between the numbers.
/// @throws UsageError naming what is wrong and both accepted forms; also for more than 100 000
///         speeds
std::vector<SpindleSpeed> parse_speeds(std::string_view text);

/// A measure above 0 with its unit, SI.
/// @throws UsageError naming the option, the value and what is accepted
double parse_measure(std::string_view option, std::string_view text, Quantity quantity);

/// Seconds from 0, with their unit or without.
double parse_seconds(std::string_view option, std::string_view text);

/// A whole number within [low, high], in plain digits.
/// @throws UsageError naming the option, the value and the range
long long parse_whole(std::string_view option, std::string_view text, long long low,
                      long long high);

/// Index of `text` among the accepted words.
/// @throws UsageError listing the words and the nearest one
std::size_t parse_word(std::string_view option, std::string_view text,
                       const std::vector<std::string>& words);

/// "3/8": the third share of eight.
/// @throws UsageError saying what is accepted
Shard parse_shard(std::string_view text);

}  // namespace standfast
