#pragma once

#include <Eigen/Core>
#include <optional>
#include <vector>

#include "fea/job/joint.hpp"
#include "fea/job/shape.hpp"
#include "fea/structure/contact_stiffness.hpp"

namespace standfast {

/// Contact face of a joint in its own axes, as figures.
struct Footprint {
    double area = 0;             ///< m^2
    double second_moment_x = 0;  ///< m^4, integral of y^2 (tilting about x)
    double second_moment_y = 0;  ///< m^4, integral of x^2 (tilting about y)
};

/// Face over which the catalogue's figures per area are taken: length x neck width for a
/// dovetail, the two gripped strips (jaw length x grip) for jaws, else what the two shapes have in
/// common, bores left out (the smaller one whole where it would fall into the bore: something must
/// close that).
Footprint joint_footprint(const Joint& joint, const SectionShape& lower, const SectionShape& upper);

/// A flat rectangle of contact. Its normal is the joint's z turned about x by `inclination`.
struct ContactPatch {
    Eigen::Vector2d centre = Eigen::Vector2d::Zero();  ///< m, x and y
    Eigen::Vector2d size = Eigen::Vector2d::Zero();    ///< m, along x, and along the slope
    double inclination = 0;                            ///< rad; 0 a seat, 90 deg a jaw face
    double fill = 1;  ///< share of the rectangle that is there at all (a ring's in its rectangle)
    double bearing = 1;                    ///< share of that which touches
    double pressure = 0;                   ///< Pa, normal force over what touches
    std::optional<ContactStiffness> full;  ///< of its own when pressed hard; else the kind's
    double area() const { return size.prod() * fill; }
};

/// What kind of zone it is: how the bodies beside it give depends on that.
enum class ZoneForm { face, cones, flanks, flanks_and_seat, jaws };

/// Where a joint really is pressed together, and how hard.
struct ClampedZone {
    ZoneForm form = ZoneForm::face;
    std::vector<ContactPatch> patches;
    double pressure = 0;  ///< Pa, normal force over what touches, mean over the patches
};

/// The zone really clamped: cones under screws; the two flank strips of a dovetail, and its seat
/// unless it is said not to bear; two strips of jaw, and parallels where they are said to bear; the
/// whole face for a preload without screws, of which the kind's `bearing` share touches. None
/// without clamp data.
///
/// Screws: preload = torque / (0.2 diameter) each (dry nut factor, common practice). Where no
/// circle is given and the usual places lie beside the faces, the whole face counts. Dovetail:
/// statics of a wedge with friction, seating force = clamp / tan(flank + atan mu). Half of a flank
/// touches: its jaw hangs on screws and tilts. In solid models jaws on screws give 0.57 of what
/// jaws of one piece do. Jaws: parallels are taken as 6 mm wide along each jaw, pressed by
/// friction, and bear with 0.8 N/um/mm2 across and 0.31 along (solid models;
/// materials/data/joints.toml, vice).
std::optional<ClampedZone> clamped_zone(const Joint& joint, const SectionShape& lower,
                                        const SectionShape& upper);

/// Stiffness of a zone: translations and rotations about the joint's axes, N/m and N m/rad.
struct ZoneStiffness {
    Eigen::Vector3d translation = Eigen::Vector3d::Zero();
    Eigen::Vector3d rotation = Eigen::Vector3d::Zero();
};
/// All faces give by the same figures.
/// @param normal, tangential  N/m^3 of contact area
ZoneStiffness zone_stiffness(const ClampedZone& zone, double normal, double tangential);
/// Each face gives as its own pressure says (pressed_contact).
/// @param full  N/m^3, of faces that are pressed hard
ZoneStiffness zone_stiffness(const ClampedZone& zone, const ContactStiffness& full);

/// Areas and second moments of the patches seen along z; an upright face counts with its area too.
Footprint zone_footprint(const ClampedZone& zone);

}  // namespace standfast
