#include "fea/stack/joint_stiffness.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>

#include "fea/quantities/require.hpp"
#include "fea/structure/contact_stiffness.hpp"

namespace standfast {
namespace {

constexpr double kPi = std::numbers::pi;
constexpr double kGivenSpread = 1.1;
constexpr double kGivenLossSpread = 1.3;
constexpr double kUnsaidLoss = 0.03;
/// The row of the contact law nearest to a fixture's ground or finish-milled faces.
constexpr const char* kMachinedFaces = "peripheral ground, Ra 1.0 um";

double cube(double value) { return value * value * value; }

bool says_all(const JointNumbers& given) {
    return given.lateral && given.vertical && given.tilting && given.twisting;
}

/// All that a bending tool or stack leans on; twisting alone makes no joint a guess.
bool says_main(const JointNumbers& given) {
    return given.lateral && given.vertical && given.tilting;
}

bool says_any(const JointNumbers& given) {
    return given.lateral || given.vertical || given.tilting || given.twisting;
}

/// Puts the numbers given outright in place, component by component.
void overlay(const JointNumbers& given, ZoneStiffness& stiffness) {
    if (given.lateral) stiffness.translation.head<2>() << (*given.lateral)[0], (*given.lateral)[1];
    if (given.vertical) stiffness.translation.z() = *given.vertical;
    if (given.tilting) stiffness.rotation.head<2>() << (*given.tilting)[0], (*given.tilting)[1];
    if (given.twisting) stiffness.rotation.z() = *given.twisting;
}

ZoneStiffness catalogue_stiffness(const JointKind& kind, const Footprint& face) {
    if (kind.scaling == JointScaling::per_shank) {
        throw std::domain_error("joint: kind \"" + kind.name +
                                "\" grips a shank, must be a kind that tiers stand on");
    }
    if (kind.scaling == JointScaling::absolute) {
        return {.translation = {kind.lateral, kind.lateral, kind.vertical},
                .rotation = {kind.tilting, kind.tilting, kind.twisting}};
    }
    return {.translation = face.area * Eigen::Vector3d(kind.lateral, kind.lateral, kind.vertical),
            .rotation = {kind.vertical * face.second_moment_x, kind.vertical * face.second_moment_y,
                         kind.lateral * (face.second_moment_x + face.second_moment_y)}};
}

/// Compliance of a half-space under a rigid disc with the area and second moments of the zone.
ZoneStiffness half_space_give(const Material& material, const Footprint& zone) {
    const double shear = shear_modulus(material), poisson = material.poissons_ratio;
    const double radius = std::sqrt(zone.area / kPi);
    const auto rocking = [&](double second_moment) {
        const double rocking_radius = std::pow(4 * second_moment / kPi, 0.25);
        return 3 * (1 - poisson) / (8 * shear * cube(rocking_radius));
    };
    const double lateral = (2 - poisson) / (8 * shear * radius);
    const double vertical = (1 - poisson) / (4 * shear * radius);
    const double twist_radius =
        std::pow(2 * (zone.second_moment_x + zone.second_moment_y) / kPi, 0.25);
    return {.translation = {lateral, lateral, vertical},
            .rotation = {rocking(zone.second_moment_x), rocking(zone.second_moment_y),
                         3 / (16 * shear * cube(twist_radius))}};
}

Eigen::Vector3d in_series(const Eigen::Vector3d& stiffness, const Eigen::Vector3d& lower_give,
                          const Eigen::Vector3d& upper_give) {
    return (stiffness.cwiseInverse() + lower_give + upper_give).cwiseInverse();
}

/// The contact law over the zone, in series with the local give of both bodies.
ZoneStiffness law_stiffness(const ClampedZone& zone, const JointFace& lower,
                            const JointFace& upper) {
    const ContactStiffness face =
        contact_stiffness(contact_surfaces_named(kMachinedFaces), zone.pressure);
    const ZoneStiffness contact = zone_stiffness(zone, face.normal, face.tangential);
    const Footprint footprint = zone_footprint(zone);
    const ZoneStiffness below = half_space_give(lower.material, footprint);
    const ZoneStiffness above = half_space_give(upper.material, footprint);
    return {.translation = in_series(contact.translation, below.translation, above.translation),
            .rotation = in_series(contact.rotation, below.rotation, above.rotation)};
}

void bound(ZoneStiffness& stiffness, const ZoneStiffness& median, double factor,
           ResolvedJoint& joint) {
    const Eigen::Vector3d translation = stiffness.translation.cwiseMin(factor * median.translation);
    const Eigen::Vector3d rotation = stiffness.rotation.cwiseMin(factor * median.rotation);
    joint.bounded = translation != stiffness.translation || rotation != stiffness.rotation;
    stiffness = {.translation = translation, .rotation = rotation};
}

ZoneStiffness kind_stiffness(const Joint& joint, const JointFace& lower, const JointFace& upper,
                             ResolvedJoint& resolved) {
    const Footprint face = joint_footprint(joint, lower.shape, upper.shape);
    ZoneStiffness median = catalogue_stiffness(joint.kind, face);
    const std::optional<ClampedZone> zone = clamped_zone(joint, lower.shape, upper.shape);
    resolved.basis = JointBasis::catalogue;
    if (!zone || !(zone->pressure > 0)) return median;
    resolved.pressure = zone->pressure;
    resolved.too_hard = zone->pressure > kContactPressureLimit;
    if (resolved.too_hard || joint.kind.scaling != JointScaling::per_area) return median;
    resolved.basis = JointBasis::contact_law;
    ZoneStiffness law = law_stiffness(*zone, lower, upper);
    bound(law, median, joint.kind.upper_factor, resolved);
    return law;
}

void require_complete(const ResolvedJoint& joint, const std::string& kind) {
    const std::string where =
        kind.empty() ? "joint given by numbers" : "joint of kind \"" + kind + '"';
    require_positive(joint.translation.x(), where, "lateral stiffness along x");
    require_positive(joint.translation.y(), where, "lateral stiffness along y");
    require_positive(joint.translation.z(), where, "vertical stiffness");
    require_positive(joint.rotation.x(), where, "tilting stiffness about x");
    require_positive(joint.rotation.y(), where, "tilting stiffness about y");
    require_positive(joint.rotation.z(), where, "twisting stiffness");
}

void set_spreads(const Joint& joint, ResolvedJoint& resolved) {
    const bool given = says_main(joint.given) || joint.kind.name.empty();
    const bool apart = !joint.measured_as.empty();
    const std::string group = apart ? joint.measured_as : given ? "given" : joint.kind.name;
    resolved.stiffness_spread = {
        .group = "joint stiffness: " + group,
        .factor = joint.stiffness_spread.value_or(given ? kGivenSpread : joint.kind.spread)};
    const bool loss_given = joint.given.loss.has_value();
    const std::string loss_group = apart                     ? joint.measured_as
                                   : loss_given              ? "given"
                                   : joint.kind.name.empty() ? "not said"
                                                             : joint.kind.name;
    resolved.loss_spread = {.group = "joint loss: " + loss_group,
                            .factor = joint.loss_spread.value_or(
                                loss_given ? kGivenLossSpread : joint.kind.loss_spread)};
}

/// Given numbers over those of the kind, adjustments of `fit`, loss and spreads.
void finish(const Joint& joint, ZoneStiffness stiffness, ResolvedJoint& resolved) {
    overlay(joint.given, stiffness);
    if (says_main(joint.given)) resolved.basis = JointBasis::given;
    require_positive(joint.stiffness_adjust, "joint", "stiffness adjustment");
    require_positive(joint.loss_adjust, "joint", "loss adjustment");
    resolved.translation = joint.stiffness_adjust * stiffness.translation;
    resolved.rotation = joint.stiffness_adjust * stiffness.rotation;
    const double unsaid = joint.kind.name.empty() ? kUnsaidLoss : joint.kind.loss_factor;
    resolved.loss_factor = joint.loss_adjust * joint.given.loss.value_or(unsaid);
    require_not_negative(resolved.loss_factor, "joint", "loss factor");
    set_spreads(joint, resolved);
    require_complete(resolved, joint.kind.name);
}

ResolvedJoint solid_joint() {
    ResolvedJoint joint;
    joint.basis = JointBasis::solid;
    return joint;
}

}  // namespace

ResolvedJoint resolve_stack_joint(const Joint& joint, const JointFace& lower,
                                  const JointFace& upper) {
    if (joint.solid) return solid_joint();
    ResolvedJoint resolved;
    ZoneStiffness stiffness;
    if (!joint.kind.name.empty() && !says_all(joint.given)) {
        stiffness = kind_stiffness(joint, lower, upper, resolved);
    }
    finish(joint, stiffness, resolved);
    return resolved;
}

ResolvedJoint resolve_tool_joint(const Joint& joint, double shank_diameter) {
    if (joint.solid) return solid_joint();
    ResolvedJoint resolved;
    const JointKind& kind = joint.kind;
    if (kind.scaling == JointScaling::per_area && !kind.name.empty()) {
        throw std::domain_error("joint: kind \"" + kind.name +
                                "\" is for tiers, must be a taper or a grip");
    }
    double size = 1;
    if (kind.scaling == JointScaling::per_shank) {
        require_positive(shank_diameter, "grip", "shank diameter");
        constexpr double kCatalogueShank = 16e-3;
        size = shank_diameter / kCatalogueShank;
    }
    ZoneStiffness stiffness{
        .translation = size * Eigen::Vector3d(kind.lateral, kind.lateral, kind.vertical),
        .rotation = cube(size) * Eigen::Vector3d(kind.tilting, kind.tilting, kind.twisting)};
    if (!(stiffness.rotation.z() > 0)) {
        stiffness.rotation.z() =
            joint.given.tilting ? joint.given.tilting->front() : stiffness.rotation.x();
    }
    finish(joint, stiffness, resolved);
    return resolved;
}

ResolvedJoint resolve_springs(const JointNumbers& given, const SpringFigures& kind,
                              const std::string& group) {
    ZoneStiffness stiffness{.translation = {kind.lateral, kind.lateral, kind.vertical},
                            .rotation = {kind.tilting, kind.tilting, kind.twisting}};
    overlay(given, stiffness);
    ResolvedJoint resolved;
    resolved.basis = says_any(given) ? JointBasis::given : JointBasis::catalogue;
    resolved.translation = stiffness.translation;
    resolved.rotation = stiffness.rotation;
    resolved.loss_factor = given.loss.value_or(kind.named ? kind.loss_factor : kUnsaidLoss);
    require_not_negative(resolved.loss_factor, group, "loss factor");
    require_not_negative(resolved.translation.minCoeff(), group,
                         "smallest translational stiffness");
    require_not_negative(resolved.rotation.minCoeff(), group, "smallest rotational stiffness");
    const bool from_kind = kind.named && !says_main(given);
    resolved.stiffness_spread = {.group = group + " stiffness",
                                 .factor = from_kind ? kind.spread : kGivenSpread};
    resolved.loss_spread = {.group = group + " loss",
                            .factor = given.loss ? kGivenLossSpread : kind.loss_spread};
    return resolved;
}

}  // namespace standfast
