#pragma once

#include <optional>

#include "fea/judgement/cut/cut_problem.hpp"

namespace standfast {

/// Radial depth (m) that engages as much of the cutter as an inside corner of the path does.
///
/// The finished corner has radius `corner`, the stock before the pass stands `radial` inside it;
/// the cutter's centre runs on the radius corner - D/2. Engaged half-way around from the wall:
/// cos = [(corner - radial)^2 - (corner - R)^2 - R^2] / [2 (corner - R) R], at most 90 deg more
/// than along the straight wall (a square turn of the path).
/// @throws std::domain_error unless 0 < radial <= diameter and corner > 0
/// Source: law of cosines; own derivation.
double corner_radial(double radial, double corner, double diameter);

/// Smallest edge of chatter in the pass's inside corner at one speed, over feed headings up to
/// 90 deg to either side of `heading`; none where the pass gives no corner_radius.
/// Chatter only: forces, wall error and holding are judged along the straight wall.
std::optional<SpeedLimit> corner_limit(const CutProblem& problem, double heading,
                                       SpindleSpeed speed);

}  // namespace standfast
