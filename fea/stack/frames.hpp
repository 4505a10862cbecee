#pragma once

#include <Eigen/Core>

namespace standfast {

// Room "stack": job data -> models, frames, and the relative receptance at the cut.
// Stack axes: z up from the table, x and y the table's. Tool axes: z from tip to spindle, x feed,
// y normal to feed. Spindle axes: those of the tool at feed heading 0.

/// Turns by an angle (rad, right-handed) about x, y or z.
Eigen::Matrix3d rotation_x(double angle);
Eigen::Matrix3d rotation_y(double angle);
Eigen::Matrix3d rotation_z(double angle);

/// Columns: the tool's x (feed), y, z axes in stack axes: Rz(turn) Ry(tilt) Rz(feed_heading).
/// The spindle leans toward heading `turn`. Angles in rad; throws std::domain_error unless finite.
/// The same on a machine whose table tilts and turns under the spindle (its springs turn with the
/// stack) and on one whose head does (the table stands still, `turn` is the heading of the head):
/// in stack axes the table's x and y stay where they are either way.
Eigen::Matrix3d tool_axes(double tilt, double turn, double feed_heading);

/// Feed heading (rad, in (-pi, pi]) at which the finished wall's outward normal is `wall` (stack
/// axes): the wall lies at -y of the tool when milling down, +y when milling up.
/// @param wall_at_minus_y  true for down
/// @throws std::domain_error if the wall's normal is along the tool axis (within 1 deg)
double feed_heading_for_wall(double tilt, double turn, const Eigen::Vector3d& wall,
                             bool wall_at_minus_y);

}  // namespace standfast
