#pragma once

#include "fea/judgement/solids/solid_distance.hpp"
#include "fea/studies/trade/trade.hpp"

namespace standfast {

/// Reach by distances between solids: the least stickout that clears with the job's clearance, and
/// what a shorter tool would hit, or what the longest one hits where none clears.
/// @param distance  must outlive what is returned
TradeReachOf reach_by_distance(const SolidDistance& distance);

}  // namespace standfast
