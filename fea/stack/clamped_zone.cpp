#include "fea/stack/clamped_zone.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "fea/quantities/require.hpp"
#include "fea/stack/screw_cones.hpp"

namespace standfast {
namespace {

constexpr double kPi = std::numbers::pi;
constexpr double kNutFactor = 0.2;
constexpr double kFlankBearing = 0.5;
constexpr double kLeastShare = 0.02;
constexpr double kParallelWidth = 6e-3;
constexpr ContactStiffness kParallelContact{.normal = 0.8e12, .tangential = 0.31e12};

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

bool is_solid(const SectionShape& shape) {
    return !std::holds_alternative<TubeShape>(shape) && !std::holds_alternative<BoxShape>(shape);
}

/// A shape lies wholly on a solid one whose width is nowhere less.
bool lies_on(const SectionShape& small, const SectionShape& large) {
    const bool round = std::holds_alternative<RoundShape>(large);
    const double x = width_x(small), y = width_y(small);
    const bool round_on_round =
        !std::holds_alternative<BlockShape>(small) && !std::holds_alternative<BoxShape>(small);
    const double reach = round_on_round ? std::max(x, y) : std::hypot(x, y);
    return is_solid(large) &&
           (round ? reach <= width_x(large) : x <= width_x(large) && y <= width_y(large));
}

Footprint overlap(const SectionShape& lower, const SectionShape& upper) {
    if (lies_on(upper, lower)) return shape_footprint(upper);
    if (lies_on(lower, upper)) return shape_footprint(lower);
    const AreaMoments common = common_area({{.shape = upper}, {.shape = lower}});
    const SectionShape& less = material_area(upper) < material_area(lower) ? upper : lower;
    // A body that would fall into the bore stands on something that closes it.
    if (!(common.area > kLeastShare * material_area(less))) return shape_footprint(less);
    return {.area = common.area,
            .second_moment_x = common.second.y(),
            .second_moment_y = common.second.x()};
}

double tail_width(const Dovetail& dovetail) {
    require_positive(dovetail.length, "dovetail", "length");
    require_positive(dovetail.width, "dovetail", "width");
    require_not_negative(dovetail.depth, "dovetail", "depth");
    require_between(dovetail.flank, kPi / 18, kPi / 2, "dovetail", "flank angle, rad,");
    return dovetail.width + 2 * dovetail.depth / std::tan(dovetail.flank);
}

void require_jaws(const Jaws& jaws) {
    require_positive(jaws.length, "jaws", "length");
    require_positive(jaws.width, "jaws", "width");
    require_positive(jaws.grip, "jaws", "grip");
}

Footprint strips_footprint(const Jaws& jaws) {
    require_jaws(jaws);
    const double area = 2 * jaws.length * jaws.grip;
    return {.area = area,
            .second_moment_x = area * jaws.width * jaws.width / 4,
            .second_moment_y = area * jaws.length * jaws.length / 12};
}

double friction_of(const Joint& joint) { return joint.friction.value_or(joint.kind.friction); }

double touching_area(const ClampedZone& zone) {
    double area = 0;
    for (const ContactPatch& patch : zone.patches) area += patch.bearing * patch.area();
    return area;
}

/// Presses patches with forces, one each.
void press(ClampedZone& zone, const std::vector<double>& forces) {
    double total = 0;
    for (std::size_t index = 0; index < forces.size(); ++index) {
        ContactPatch& patch = zone.patches[index];
        patch.pressure = forces[index] / (patch.bearing * patch.area());
        total += forces[index];
    }
    zone.pressure = total / touching_area(zone);
}

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
    ClampedZone zone{.form = ZoneForm::flanks};
    for (const double side : {1.0, -1.0}) {
        zone.patches.push_back({.centre = {0, side * offset},
                                .size = {dovetail.length, slope},
                                .inclination = side * dovetail.flank,
                                .bearing = kFlankBearing});
    }
    std::vector<double> forces{flank_normal, flank_normal};
    if (dovetail.seat.value_or(true)) {
        zone.form = ZoneForm::flanks_and_seat;
        zone.patches.push_back({.size = {dovetail.length, base}});
        forces.push_back(seating);
    }
    press(zone, forces);
    return zone;
}

ContactPatch parallel(const Jaws& jaws, double side) {
    const double width = std::min(kParallelWidth, jaws.width / 2);
    return {.centre = {0, side * (jaws.width - width) / 2},
            .size = {jaws.length, width},
            .full = kParallelContact};
}

std::optional<ClampedZone> jaw_zone(const Joint& joint, const Jaws& jaws) {
    if (!jaws.clamp) return std::nullopt;
    require_not_negative(*jaws.clamp, "jaws", "clamp");
    require_jaws(jaws);
    ClampedZone zone{.form = ZoneForm::jaws};
    for (const double side : {1.0, -1.0}) {
        zone.patches.push_back({.centre = {0, side * jaws.width / 2},
                                .size = {jaws.length, jaws.grip},
                                .inclination = side * kPi / 2});
    }
    std::vector<double> forces{*jaws.clamp, *jaws.clamp};
    if (jaws.seat.value_or(false)) {
        for (const double side : {1.0, -1.0}) {
            zone.patches.push_back(parallel(jaws, side));
            forces.push_back(friction_of(joint) * *jaws.clamp);
        }
    }
    press(zone, forces);
    return zone;
}

double preload_of(const Joint& joint, const Screws& screws) {
    const double preload = joint.preload
                               ? *joint.preload
                               : screws.count * *screws.torque / (kNutFactor * screws.diameter);
    require_not_negative(preload, "screws", "preload");
    return preload;
}

/// A rectangle with the figure's own second moments, filled to its area.
ContactPatch patch_of(const AreaMoments& figure) {
    const Eigen::Vector2d centre = figure.first / figure.area;
    const Eigen::Vector2d own = figure.second / figure.area - centre.cwiseAbs2();
    const Eigen::Vector2d size = (12 * own).cwiseSqrt();
    return {.centre = centre, .size = size, .fill = figure.area / size.prod()};
}

/// One rectangle with the area and second moments' ratio of the face.
ClampedZone whole_face(const Footprint& face, double force, double bearing) {
    require_not_negative(force, "joint", "preload");
    const double x = std::sqrt(12 * face.second_moment_y / face.area);
    const double y = std::sqrt(12 * face.second_moment_x / face.area);
    ClampedZone zone;
    zone.patches = {{.size = {x, y}, .fill = face.area / (x * y), .bearing = bearing}};
    press(zone, {force});
    return zone;
}

std::optional<ClampedZone> screw_zone(const Joint& joint, const Screws& screws,
                                      const SectionShape& lower, const SectionShape& upper) {
    if (screws.count <= 0 || (!joint.preload && !screws.torque)) return std::nullopt;
    ClampedZone zone{.form = ZoneForm::cones};
    for (const AreaMoments& cone : screw_cones(screws, lower, upper)) {
        if (cone.area > 0) zone.patches.push_back(patch_of(cone));
    }
    const double area = touching_area(zone);
    if (!(area > 0) && !screws.circle) {
        return whole_face(overlap(lower, upper), preload_of(joint, screws), joint.kind.bearing);
    }
    require_positive(area, "screws", "area of the faces under them (circle beside the face)");
    const double preload = preload_of(joint, screws);
    for (ContactPatch& patch : zone.patches) patch.pressure = preload / area;
    zone.pressure = preload / area;
    return zone;
}

/// Along the joint's x, y, z of a patch whose face gives so; the slope runs in y and z.
void add_patch(ZoneStiffness& sum, const ContactPatch& patch, const ContactStiffness& face) {
    const double area = patch.bearing * patch.area();
    const double sine = std::sin(patch.inclination), cosine = std::cos(patch.inclination);
    const double along_x = face.tangential;
    const double along_y = face.normal * sine * sine + face.tangential * cosine * cosine;
    const double along_z = face.normal * cosine * cosine + face.tangential * sine * sine;
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

}  // namespace

Footprint joint_footprint(const Joint& joint, const SectionShape& lower,
                          const SectionShape& upper) {
    if (joint.dovetail) {
        require_positive(joint.dovetail->length, "dovetail", "length");
        require_positive(joint.dovetail->width, "dovetail", "width");
        return rectangle_footprint(joint.dovetail->length, joint.dovetail->width);
    }
    if (joint.jaws) return strips_footprint(*joint.jaws);
    const Footprint face = overlap(lower, upper);
    require_positive(face.area, "joint", "area of the footprint");
    require_positive(face.second_moment_x, "joint", "second moment of the footprint about x");
    require_positive(face.second_moment_y, "joint", "second moment of the footprint about y");
    return face;
}

std::optional<ClampedZone> clamped_zone(const Joint& joint, const SectionShape& lower,
                                        const SectionShape& upper) {
    if (joint.dovetail) return dovetail_zone(joint, *joint.dovetail);
    if (joint.jaws) return jaw_zone(joint, *joint.jaws);
    if (joint.screws) return screw_zone(joint, *joint.screws, lower, upper);
    if (!joint.preload) return std::nullopt;
    return whole_face(joint_footprint(joint, lower, upper), *joint.preload, joint.kind.bearing);
}

ZoneStiffness zone_stiffness(const ClampedZone& zone, double normal, double tangential) {
    ZoneStiffness sum;
    for (const ContactPatch& patch : zone.patches) {
        add_patch(sum, patch, {.normal = normal, .tangential = tangential});
    }
    return sum;
}

ZoneStiffness zone_stiffness(const ClampedZone& zone, const ContactStiffness& full) {
    ZoneStiffness sum;
    for (const ContactPatch& patch : zone.patches) {
        add_patch(sum, patch, pressed_contact(patch.full.value_or(full), patch.pressure));
    }
    return sum;
}

Footprint zone_footprint(const ClampedZone& zone) {
    Footprint sum;
    for (const ContactPatch& patch : zone.patches) {
        const double area = patch.area();
        const double across = patch.size.y() * std::cos(patch.inclination);
        sum.area += area;
        sum.second_moment_x += area * (patch.centre.y() * patch.centre.y() + across * across / 12);
        sum.second_moment_y +=
            area * (patch.centre.x() * patch.centre.x() + patch.size.x() * patch.size.x() / 12);
    }
    return sum;
}

}  // namespace standfast
