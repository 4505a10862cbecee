#include "fea/judgement/holding/clamping.hpp"

#include <cmath>
#include <limits>
#include <numbers>

#include "fea/quantities/require.hpp"

namespace standfast {

double mean_lever(double a, double b) {
    require_positive(a, "mean_lever", "side a");
    require_positive(b, "mean_lever", "side b");
    const double d = std::hypot(a, b);
    return (d / 2 + a * a / (4 * b) * std::log((b + d) / a) +
            b * b / (4 * a) * std::log((a + d) / b)) /
           3;
}

double mean_lever_of_disc(double diameter) {
    require_positive(diameter, "mean_lever_of_disc", "diameter");
    return diameter / 3;
}

double seating_ratio(double flank, double friction) {
    require_positive(flank, "seating_ratio", "flank angle");
    require_not_negative(friction, "seating_ratio", "friction");
    const double angle = flank + std::atan(friction);
    return angle < std::numbers::pi / 2 ? 1 / std::tan(angle) : 0;
}

double pull_out_ratio(double flank, double friction) {
    require_positive(flank, "pull_out_ratio", "flank angle");
    require_not_negative(friction, "pull_out_ratio", "friction");
    const double angle = flank - std::atan(friction);
    return angle > 0 ? 1 / std::tan(angle) : std::numeric_limits<double>::infinity();
}

double screw_preload(double torque, double diameter) {
    require_positive(torque, "screw_preload", "torque");
    require_positive(diameter, "screw_preload", "thread diameter");
    return torque / (kNutFactor * diameter);
}

double slip_capacity(const OpposedFaces& faces) { return 2 * faces.friction * faces.force; }

double turning_capacity(const OpposedFaces& faces) {
    return slip_capacity(faces) * mean_lever(faces.length, faces.grip);
}

double turning_capacity_on_seat(const OpposedFaces& faces) {
    return slip_capacity(faces) * mean_lever(2 * faces.length, 2 * faces.grip);
}

double slip_capacity_at_height(const OpposedFaces& faces, double height) {
    return 1 / (1 / slip_capacity(faces) + std::abs(height) / turning_capacity(faces));
}

double tilt_capacity(const OpposedFaces& faces) {
    return faces.force * (faces.grip / 3 + faces.friction * faces.width);
}

}  // namespace standfast
