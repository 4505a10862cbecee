#pragma once

#include <Eigen/Core>
#include <optional>
#include <vector>

#include "fea/job/joint.hpp"
#include "fea/job/shape.hpp"

namespace standfast {

/// Contact face of a joint in its own axes, as figures.
struct Footprint {
    double area = 0;             ///< m^2
    double second_moment_x = 0;  ///< m^4, integral of y^2 (tilting about x)
    double second_moment_y = 0;  ///< m^4, integral of x^2 (tilting about y)
};

/// Face over which the catalogue's figures per area are taken: length x neck width for a
/// dovetail, jaw length x held width for jaws, else where the two shapes overlap (the smaller one
/// if it fits on the other, else the rectangle common to both).
Footprint joint_footprint(const Joint& joint, const SectionShape& lower, const SectionShape& upper);

/// A flat rectangle of contact. Its normal is the joint's z turned about x by `inclination`.
struct ContactPatch {
    Eigen::Vector2d centre = Eigen::Vector2d::Zero();  ///< m, x and y
    Eigen::Vector2d size = Eigen::Vector2d::Zero();    ///< m, along x, and along the slope
    double inclination = 0;                            ///< rad; 0 a seat, 90 deg a jaw face
};

/// Where a joint really is pressed together, and how hard.
struct ClampedZone {
    std::vector<ContactPatch> patches;
    double pressure = 0;  ///< Pa, normal force over area, mean over the patches
};

/// The zone really clamped: cones under screws; two flank strips and the seat of a dovetail; two
/// strips of jaw; the whole footprint for a preload without screws. None without clamp data.
/// Screws: preload = torque / (0.2 diameter) each (dry nut factor, common practice), the pressure
/// cone as wide as 3.2 thread diameters at the joint (head 1.5 d, flange 1.5 d, half angle 30
/// deg), screws on a circle inside the footprint.
/// Dovetail: statics of a wedge with friction, seating force = clamp / tan(flank + atan mu).
std::optional<ClampedZone> clamped_zone(const Joint& joint, const SectionShape& lower,
                                        const SectionShape& upper);

/// Stiffness of a zone whose faces give by the same law: translations and rotations about the
/// joint's axes, N/m and N m/rad.
struct ZoneStiffness {
    Eigen::Vector3d translation = Eigen::Vector3d::Zero();
    Eigen::Vector3d rotation = Eigen::Vector3d::Zero();
};
/// @param normal, tangential  N/m^3 of contact area
ZoneStiffness zone_stiffness(const ClampedZone& zone, double normal, double tangential);

/// Areas and second moments of the patches seen along z.
Footprint zone_footprint(const ClampedZone& zone);

}  // namespace standfast
