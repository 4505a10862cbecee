#pragma once

#include <Eigen/Core>
#include <optional>

#include "fea/job/job.hpp"

namespace standfast {

/// Axes of a tier in stack axes (columns x, y, z): host axes Rz(heading) Ry(lean) Rz(spin).
Eigen::Matrix3d tier_axes(const Stack& stack, std::size_t tier);

/// The spindle's direction (from tip to spindle) in the axes of the pass's tier.
Eigen::Vector3d spindle_in_tier(const Job& job, const Pass& pass);

/// Start to end of a path of two points, tier axes, or none.
std::optional<Eigen::Vector3d> run_of_path(const Pass& pass);

/// Feed heading (rad, about the tool axis) of a path of two points square to the spindle within
/// 10 deg, or none.
std::optional<double> heading_of_path(const Job& job, const Pass& pass);

/// How far the path runs the way that the pass's milling asks along its wall: 1 with it, -1
/// against it, 0 across. The wall lies at -y of the tool for down, so the feed is wall x spindle;
/// for up it is the reverse. 0 without a path or wall.
double path_sense(const Job& job, const Pass& pass);

}  // namespace standfast
