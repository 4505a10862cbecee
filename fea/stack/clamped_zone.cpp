#include "fea/stack/clamped_zone.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "fea/quantities/require.hpp"

namespace standfast {
namespace {

constexpr double kPi = std::numbers::pi;
constexpr double kNutFactor = 0.2;
constexpr double kConeDiameters = 3.2;
constexpr double kHoleDiameters = 1.1;

Footprint rectangle_footprint(double x, double y) {
    return {.area = x * y,
            .second_moment_x = x * y * y * y / 12,
            .second_moment_y = y * x * x * x / 12};
}

Footprint shape_footprint(const SectionShape& shape) {
    return {.area = material_area(shape),
            .second_moment_x = second_moment_about_x(shape),
            .second_moment_y = second_moment_about_y(shape)};
}

bool fits_on(const SectionShape& small, const SectionShape& large) {
    return width_x(small) <= width_x(large) && width_y(small) <= width_y(large);
}

Footprint overlap(const SectionShape& lower, const SectionShape& upper) {
    const bool upper_fits = fits_on(upper, lower), lower_fits = fits_on(lower, upper);
    if (upper_fits && lower_fits) {
        return shape_footprint(material_area(lower) < material_area(upper) ? lower : upper);
    }
    if (upper_fits) return shape_footprint(upper);
    if (lower_fits) return shape_footprint(lower);
    return rectangle_footprint(std::min(width_x(lower), width_x(upper)),
                               std::min(width_y(lower), width_y(upper)));
}

double tail_width(const Dovetail& dovetail) {
    require_positive(dovetail.length, "dovetail", "length");
    require_positive(dovetail.width, "dovetail", "width");
    require_not_negative(dovetail.depth, "dovetail", "depth");
    require_between(dovetail.flank, kPi / 18, kPi / 2, "dovetail", "flank angle, rad,");
    return dovetail.width + 2 * dovetail.depth / std::tan(dovetail.flank);
}

Eigen::Vector2d jaw_face(const Jaws& jaws) {
    require_positive(jaws.length, "jaws", "length");
    require_positive(jaws.width, "jaws", "width");
    return {jaws.length, jaws.width};
}

double friction_of(const Joint& joint) { return joint.friction.value_or(joint.kind.friction); }

std::optional<ClampedZone> dovetail_zone(const Joint& joint, const Dovetail& dovetail) {
    if (!dovetail.clamp) return std::nullopt;
    require_not_negative(*dovetail.clamp, "dovetail", "clamp");
    require_positive(dovetail.depth, "dovetail", "depth");
    const double base = tail_width(dovetail);
    const double sine = std::sin(dovetail.flank), cosine = std::cos(dovetail.flank);
    const double friction = friction_of(joint);
    const double flank_normal = *dovetail.clamp / (sine + friction * cosine);
    const double seating = std::max(0.0, 2 * flank_normal * (cosine - friction * sine));
    const double slope = dovetail.depth / sine;
    const double offset = (dovetail.width + base) / 4;
    ClampedZone zone;
    zone.patches = {
        {.centre = {0, 0}, .size = {dovetail.length, base}, .inclination = 0},
        {.centre = {0, offset}, .size = {dovetail.length, slope}, .inclination = dovetail.flank},
        {.centre = {0, -offset}, .size = {dovetail.length, slope}, .inclination = -dovetail.flank}};
    zone.pressure =
        (2 * flank_normal + seating) / (dovetail.length * base + 2 * dovetail.length * slope);
    return zone;
}

std::optional<ClampedZone> jaw_zone(const Jaws& jaws) {
    if (!jaws.clamp || !(jaws.grip > 0)) return std::nullopt;
    require_not_negative(*jaws.clamp, "jaws", "clamp");
    const Eigen::Vector2d face = jaw_face(jaws);
    ClampedZone zone;
    for (const double side : {1.0, -1.0}) {
        zone.patches.push_back({.centre = {0, side * face.y() / 2},
                                .size = {face.x(), jaws.grip},
                                .inclination = side * kPi / 2});
    }
    zone.pressure = *jaws.clamp / (jaws.length * jaws.grip);
    return zone;
}

std::optional<ClampedZone> screw_zone(const Joint& joint, const Screws& screws,
                                      const Footprint& face) {
    if (screws.count <= 0 || (!joint.preload && !screws.torque)) return std::nullopt;
    require_positive(screws.diameter, "screws", "diameter");
    const double preload = joint.preload
                               ? *joint.preload
                               : screws.count * *screws.torque / (kNutFactor * screws.diameter);
    require_not_negative(preload, "screws", "preload");
    const double cone = kConeDiameters * screws.diameter, hole = kHoleDiameters * screws.diameter;
    const double ring = kPi / 4 * (cone * cone - hole * hole);
    const double side = std::sqrt(std::min(ring, face.area / screws.count));
    // A face of uniform width w has sqrt(12 I / A) = w; the cones stay inside it.
    const double least_width =
        std::sqrt(12 * std::min(face.second_moment_x, face.second_moment_y) / face.area);
    const double radius = std::max(0.0, (least_width - cone) / 2);
    ClampedZone zone;
    for (int screw = 0; screw < screws.count; ++screw) {
        const double angle = 2 * kPi * (screw + 0.5) / screws.count;
        zone.patches.push_back(
            {.centre = {radius * std::cos(angle), radius * std::sin(angle)}, .size = {side, side}});
    }
    zone.pressure = preload / (screws.count * side * side);
    return zone;
}

/// One rectangle with the area and second moments' ratio of the face.
ClampedZone whole_face(const Footprint& face, double force) {
    require_not_negative(force, "joint", "preload");
    const double x = std::sqrt(12 * face.second_moment_y / face.area);
    ClampedZone zone;
    zone.patches = {{.size = {x, face.area / x}}};
    zone.pressure = force / face.area;
    return zone;
}

}  // namespace

Footprint joint_footprint(const Joint& joint, const SectionShape& lower,
                          const SectionShape& upper) {
    if (joint.dovetail) {
        require_positive(joint.dovetail->length, "dovetail", "length");
        require_positive(joint.dovetail->width, "dovetail", "width");
        return rectangle_footprint(joint.dovetail->length, joint.dovetail->width);
    }
    if (joint.jaws) {
        const Eigen::Vector2d face = jaw_face(*joint.jaws);
        return rectangle_footprint(face.x(), face.y());
    }
    const Footprint face = overlap(lower, upper);
    require_positive(face.area, "joint", "area of the footprint");
    require_positive(face.second_moment_x, "joint", "second moment of the footprint about x");
    require_positive(face.second_moment_y, "joint", "second moment of the footprint about y");
    return face;
}

std::optional<ClampedZone> clamped_zone(const Joint& joint, const SectionShape& lower,
                                        const SectionShape& upper) {
    if (joint.dovetail) return dovetail_zone(joint, *joint.dovetail);
    if (joint.jaws) return jaw_zone(*joint.jaws);
    const Footprint face = joint_footprint(joint, lower, upper);
    if (joint.screws) return screw_zone(joint, *joint.screws, face);
    if (joint.preload) return whole_face(face, *joint.preload);
    return std::nullopt;
}

ZoneStiffness zone_stiffness(const ClampedZone& zone, double normal, double tangential) {
    ZoneStiffness sum;
    for (const ContactPatch& patch : zone.patches) {
        const double area = patch.size.x() * patch.size.y();
        const double sine = std::sin(patch.inclination), cosine = std::cos(patch.inclination);
        // Per area along the joint's axes; the slope runs in y and z.
        const double along_x = tangential;
        const double along_y = normal * sine * sine + tangential * cosine * cosine;
        const double along_z = normal * cosine * cosine + tangential * sine * sine;
        const double across = patch.size.y() * cosine, down = patch.size.y() * sine;
        const double y_squared = patch.centre.y() * patch.centre.y() + across * across / 12;
        const double z_squared = down * down / 12;
        const double x_squared =
            patch.centre.x() * patch.centre.x() + patch.size.x() * patch.size.x() / 12;
        sum.translation += area * Eigen::Vector3d(along_x, along_y, along_z);
        sum.rotation += area * Eigen::Vector3d(along_z * y_squared + along_y * z_squared,
                                               along_z * x_squared + along_x * z_squared,
                                               along_x * y_squared + along_y * x_squared);
    }
    return sum;
}

Footprint zone_footprint(const ClampedZone& zone) {
    Footprint sum;
    for (const ContactPatch& patch : zone.patches) {
        const double area = patch.size.x() * patch.size.y();
        const double across = patch.size.y() * std::cos(patch.inclination);
        sum.area += area;
        sum.second_moment_x += area * (patch.centre.y() * patch.centre.y() + across * across / 12);
        sum.second_moment_y +=
            area * (patch.centre.x() * patch.centre.x() + patch.size.x() * patch.size.x() / 12);
    }
    return sum;
}

}  // namespace standfast
