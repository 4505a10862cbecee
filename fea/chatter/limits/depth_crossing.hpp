#pragma once

#include <utility>
#include <vector>

#include "fea/chatter/limits/depth_scan.hpp"

namespace standfast {

/// An edge of stability.
struct Crossing {
    double depth = 0;  ///< m
    double slope = 0;  ///< of the growth by ln depth
};

/// The first depth of a bracket at which the growth is zero: regula falsi in ln depth
/// with the stale end's value halved (Illinois).
/// @param tolerance  of the depth, relative
/// Source: M. Dowell and P. Jarratt, BIT 11 (1971) 168-174 (memory).
Crossing crossing(const DepthScan& scan, const Bracket& bracket, double tolerance);

/// Stable depths above an unstable one, up to `end`: (from, to), m.
std::vector<std::pair<double, double>> stable_islands(DepthScan scan, ScanPoint from, double end,
                                                      double tolerance);

}  // namespace standfast
