#include "fea/stack/frames.hpp"

#include <Eigen/Geometry>
#include <cmath>
#include <numbers>
#include <stdexcept>
#include <string>

#include "fea/quantities/require.hpp"

namespace standfast {

Eigen::Matrix3d rotation_x(double angle) {
    return Eigen::AngleAxisd(angle, Eigen::Vector3d::UnitX()).toRotationMatrix();
}
Eigen::Matrix3d rotation_y(double angle) {
    return Eigen::AngleAxisd(angle, Eigen::Vector3d::UnitY()).toRotationMatrix();
}
Eigen::Matrix3d rotation_z(double angle) {
    return Eigen::AngleAxisd(angle, Eigen::Vector3d::UnitZ()).toRotationMatrix();
}

Eigen::Matrix3d tool_axes(double tilt, double turn, double feed_heading) {
    require_finite(tilt, "tool axes", "tilt");
    require_finite(turn, "tool axes", "turn");
    require_finite(feed_heading, "tool axes", "feed heading");
    return rotation_z(turn) * rotation_y(tilt) * rotation_z(feed_heading);
}

double feed_heading_for_wall(double tilt, double turn, const Eigen::Vector3d& wall,
                             bool wall_at_minus_y) {
    require_positive(wall.norm(), "feed heading for wall", "length of the wall's normal");
    // The outward normal points from the wall to the tool: +y of the tool for a wall at -y.
    const Eigen::Vector3d toward_tool =
        (wall_at_minus_y ? 1.0 : -1.0) * (tool_axes(tilt, turn, 0).transpose() * wall.normalized());
    const double across = std::hypot(toward_tool.x(), toward_tool.y());
    if (across < std::sin(std::numbers::pi / 180)) {
        throw std::domain_error(
            "feed heading for wall: the wall's normal is along the tool axis (sine of the angle "
            "between them " +
            std::to_string(across) + ", must be that of 1 deg or more)");
    }
    const double heading = std::atan2(-toward_tool.x(), toward_tool.y());
    return heading <= -std::numbers::pi ? std::numbers::pi : heading;
}

}  // namespace standfast
