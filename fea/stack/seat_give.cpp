#include "fea/stack/seat_give.hpp"

#include <Eigen/LU>
#include <algorithm>
#include <cmath>
#include <numbers>

#include "fea/quantities/require.hpp"
#include "fea/stack/joint_face.hpp"
#include "fea/stack/screw_cones.hpp"

namespace standfast {
namespace {

constexpr double kPi = std::numbers::pi;
constexpr double kShareOfHalfSpace = 0.43;
constexpr double kShearShare = 5.0 / 6;
constexpr double kNothing = 1e-6;  // share of a section; below it the two are alike

double cube(double value) { return value * value * value; }

double bending_stiffness(const Material& material, double thickness) {
    const double poisson = material.poissons_ratio;
    return material.youngs_modulus * cube(thickness) / (12 * (1 - poisson * poisson));
}

/// Deflection of the disc under a unit force: w = a + b rho^2 + c ln rho + d rho^2 ln rho.
double disc_deflection(double poisson, double stiffness, double disc, double ring) {
    const double d = 1 / (8 * kPi * stiffness);
    const double ln_disc = std::log(disc), ln_ring = std::log(ring);
    Eigen::Matrix3d conditions;
    conditions << 0, 2 * disc, 1 / disc,                    // no slope at the disc
        1, ring * ring, ln_ring,                            // no deflection on the ring
        0, 2 + 2 * poisson, (poisson - 1) / (ring * ring);  // no moment there
    const Eigen::Vector3d loads(-d * (2 * disc * ln_disc + disc), -d * ring * ring * ln_ring,
                                -d * ((2 * ln_ring + 3) + poisson * (2 * ln_ring + 1)));
    const Eigen::Vector3d free = conditions.fullPivLu().solve(loads);
    return free[0] + free[1] * disc * disc + free[2] * ln_disc + d * disc * disc * ln_disc;
}

/// Tilt of the disc under a unit moment: w = (a rho + b/rho + c rho^3 + d rho ln rho) cos theta.
double disc_tilt(double poisson, double stiffness, double disc, double ring) {
    const double d = 1 / (4 * kPi * stiffness);
    const double ln_disc = std::log(disc), ln_ring = std::log(ring);
    const auto moment = [&](double value, double slope, double curvature) {
        return curvature + poisson * (slope / ring - value / (ring * ring));
    };
    Eigen::Matrix4d conditions;
    conditions << disc, 1 / disc, cube(disc), -disc,              // turns with the disc
        1, -1 / (disc * disc), 3 * disc * disc, -1,               // and its slope too
        ring, 1 / ring, cube(ring), 0,                            // stays on the ring
        0, moment(1 / ring, -1 / (ring * ring), 2 / cube(ring)),  // without a moment there
        moment(cube(ring), 3 * ring * ring, 6 * ring), 0;
    const Eigen::Vector4d loads(-d * disc * ln_disc, -d * (ln_disc + 1), -d * ring * ln_ring,
                                -moment(d * ring * ln_ring, d * (ln_ring + 1), d / ring));
    return std::abs(conditions.fullPivLu().solve(loads)[3]);
}

/// One of the two bodies: what it gives under the face that bears.
struct Body {
    Material material;
    double section = 0;  ///< m^2, of the body there
    double layer = 0;    ///< m, height on a rigid base; 0: as deep as you like
    bool gives = true;
};

double rocking_radius(double second_moment) { return std::pow(4 * second_moment / kPi, 0.25); }

/// Half-space under a rigid disc like the face, times what is fitted; compliances.
ZoneStiffness body_give(const Body& body, const Footprint& face) {
    ZoneStiffness none;
    const double aside = std::clamp(1 - face.area / body.section, 0.0, 1.0);
    if (!body.gives || !(aside > kNothing)) return none;
    const double shear = shear_modulus(body.material), poisson = body.material.poissons_ratio;
    const double share = kShareOfHalfSpace * aside;
    const double depth = body.layer > 0 ? 1 / body.layer : 0;
    const double radius = std::sqrt(face.area / kPi);
    const double lateral = share * (2 - poisson) / (8 * shear * radius) / (1 + radius * depth / 2);
    const double vertical =
        share * (1 - poisson) / (4 * shear * radius) / (1 + 1.28 * radius * depth);
    const auto rocking = [&](double second_moment) {
        const double r = rocking_radius(second_moment);
        return share * 3 * (1 - poisson) / (8 * shear * cube(r));
    };
    const double twist_radius = rocking_radius((face.second_moment_x + face.second_moment_y) / 2);
    return {.translation = {lateral, lateral, vertical},
            .rotation = {rocking(face.second_moment_x), rocking(face.second_moment_y),
                         share * 3 / (16 * shear * cube(twist_radius))}};
}

void add(ZoneStiffness& sum, const ZoneStiffness& more) {
    sum.translation += more.translation;
    sum.rotation += more.rotation;
}

bool is_solid(const SectionShape& shape) {
    return std::holds_alternative<RoundShape>(shape) || std::holds_alternative<BlockShape>(shape);
}

bool has_section(const Tier& tier) { return !tier.lump && material_area(tier.shape) > 0; }

/// Mean distance of a host's own screws from its middle; none where it has none.
std::optional<double> screw_ring(const Stack& stack, std::size_t host) {
    const Tier& tier = stack.tiers[host];
    if (!tier.joint.screws || tier.joint.screws->count < 2 || !is_solid(tier.shape)) {
        return std::nullopt;
    }
    const std::vector<Eigen::Vector2d> places =
        screw_places(*tier.joint.screws, lower_face(stack, host).shape, tier.shape);
    double sum = 0;
    for (const Eigen::Vector2d& place : places) sum += place.norm();
    return sum / static_cast<double>(places.size());
}

/// Bending of a host on its own screws.
ZoneStiffness bending_give(const Stack& stack, std::size_t host, const Footprint& face) {
    ZoneStiffness give;
    const std::optional<double> ring = screw_ring(stack, host);
    if (!ring) return give;
    const Tier& plate = stack.tiers[host];
    const auto about = [&](double disc) {
        return plate_give(plate.material, plate.height, disc, *ring);
    };
    give.translation.z() = about(std::sqrt(face.area / kPi)).vertical;
    give.rotation.x() = about(rocking_radius(face.second_moment_x)).tilting;
    give.rotation.y() = about(rocking_radius(face.second_moment_y)).tilting;
    return give;
}

bool says_seats_itself(const Joint& joint) {
    const JointNumbers& given = joint.given;
    const bool by_numbers = given.lateral && given.vertical && given.tilting;
    return by_numbers || joint.dovetail || joint.jaws || (!joint.solid && joint.kind.name.empty());
}

/// On the middle of a host's top, upright: else the host counts as large as the tier.
bool on_a_top(const Placement& placement, const Tier& host) {
    const bool top = !placement.at || placement.at->z() > host.height - 1e-9;
    return top && std::abs(placement.lean) < 1e-9;
}

ZoneStiffness inverse(const ZoneStiffness& give) {
    return {.translation = give.translation.cwiseInverse(),
            .rotation = give.rotation.cwiseInverse()};
}

}  // namespace

PlateGive plate_give(const Material& material, double thickness, double disc, double ring) {
    require_positive(thickness, "plate", "thickness");
    require_positive(disc, "plate", "radius of the disc");
    if (!(ring > disc)) return {};
    const double poisson = material.poissons_ratio;
    const double stiffness = bending_stiffness(material, thickness);
    const double shear = 2 * kPi * shear_modulus(material) * kShearShare * thickness;
    return {
        .vertical = disc_deflection(poisson, stiffness, disc, ring) + std::log(ring / disc) / shear,
        .tilting = disc_tilt(poisson, stiffness, disc, ring) +
                   (1 / (disc * disc) - 1 / (ring * ring)) / shear};
}

std::optional<ZoneStiffness> seat_stiffness(const Stack& stack, std::size_t tier) {
    const Tier& guest = stack.tiers[tier];
    if (!guest.placement.host || says_seats_itself(guest.joint)) return std::nullopt;
    const Tier& host = stack.tiers[*guest.placement.host];
    if (!on_a_top(guest.placement, host) || !has_section(host) || !has_section(guest)) {
        return std::nullopt;
    }
    const SectionShape lower = lower_face(stack, tier).shape;
    const Footprint face = joint_footprint(Joint{}, lower, guest.shape);
    ZoneStiffness give = body_give(
        {.material = host.material, .section = material_area(lower), .layer = host.height}, face);
    add(give, body_give({.material = guest.material, .section = material_area(guest.shape)}, face));
    if (!(give.translation.minCoeff() > 0)) return std::nullopt;
    add(give, bending_give(stack, *guest.placement.host, face));
    return inverse(give);
}

}  // namespace standfast
