#include "fea/stack/joint_stiffness.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "fea/quantities/require.hpp"
#include "fea/stack/local_give.hpp"
#include "fea/structure/contact_stiffness.hpp"

namespace standfast {
namespace {

constexpr double kGivenSpread = 1.1;
constexpr double kGivenLossSpread = 1.3;
constexpr double kUnsaidLoss = 0.03;

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

/// The zone by its pressures, the two materials and the give of both bodies beside it.
ZoneStiffness held_stiffness(const ClampedZone& zone, const JointKind& kind, const JointFace& lower,
                             const JointFace& upper) {
    ZoneStiffness contact = zone_stiffness(
        zone,
        ContactStiffness{.normal = kind.contact_normal, .tangential = kind.contact_tangential});
    const double material = contact_material_factor(lower.material, upper.material);
    contact.translation *= material;
    contact.rotation *= material;
    return in_series(contact, local_give(zone, lower.material, upper.material));
}

/// The middle of two that differ by a factor.
ZoneStiffness between(const ZoneStiffness& one, const ZoneStiffness& other) {
    return {.translation = one.translation.cwiseProduct(other.translation).cwiseSqrt(),
            .rotation = one.rotation.cwiseProduct(other.rotation).cwiseSqrt()};
}

/// Dovetails and jaws have a known zone even where nobody says how hard they press.
Joint with_assumed_clamp(const Joint& joint, ResolvedJoint& resolved) {
    Joint pressed = joint;
    std::optional<double>* const clamp = joint.dovetail ? &pressed.dovetail->clamp
                                         : joint.jaws   ? &pressed.jaws->clamp
                                                        : nullptr;
    if (clamp != nullptr && !*clamp && joint.kind.assumed_clamp > 0) {
        *clamp = joint.kind.assumed_clamp;
        resolved.clamp_assumed = true;
    }
    return pressed;
}

Joint with_seat(Joint joint, bool seat) {
    joint.dovetail->seat = seat;
    return joint;
}

void require_pressed(const ClampedZone& zone) {
    if (!(zone.pressure > 0)) {
        throw std::domain_error("joint: its clamp force is 0, must be greater: nothing holds it");
    }
}

/// By the zone really clamped; none where it, or the kind's contact, is not known.
std::optional<ZoneStiffness> contact_stiffness_of(const Joint& joint, const JointFace& lower,
                                                  const JointFace& upper, ResolvedJoint& resolved) {
    if (joint.kind.scaling != JointScaling::per_area || !(joint.kind.contact_normal > 0)) {
        return std::nullopt;
    }
    const Joint pressed = with_assumed_clamp(joint, resolved);
    const auto held = [&](const Joint& by) {
        return held_stiffness(*clamped_zone(by, lower.shape, upper.shape), joint.kind, lower,
                              upper);
    };
    const std::optional<ClampedZone> zone = clamped_zone(pressed, lower.shape, upper.shape);
    if (!zone) return std::nullopt;
    require_pressed(*zone);
    resolved.pressure = zone->pressure;
    resolved.seat_unsaid = joint.dovetail && !joint.dovetail->seat;
    if (!resolved.seat_unsaid) return held(pressed);
    return between(held(with_seat(pressed, false)), held(with_seat(pressed, true)));
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
    const ZoneStiffness median =
        catalogue_stiffness(joint.kind, joint_footprint(joint, lower.shape, upper.shape));
    resolved.basis = JointBasis::catalogue;
    std::optional<ZoneStiffness> law = contact_stiffness_of(joint, lower, upper, resolved);
    if (!law) return median;
    resolved.basis = JointBasis::contact_law;
    bound(*law, median, joint.kind.upper_factor, resolved);
    return *law;
}

/// Factors of independent lognormal spreads together.
double together(double one, double other) {
    return std::exp(std::hypot(std::log(one), std::log(other)));
}

/// How far a joint of its kind may be off, with what is not known of this one.
double kind_spread(const Joint& joint, const JointFace& lower, const JointFace& upper,
                   const ResolvedJoint& resolved) {
    const JointKind& kind = joint.kind;
    if (resolved.basis != JointBasis::contact_law) return kind.unknown_spread;
    const bool unsure = resolved.clamp_assumed || resolved.seat_unsaid;
    return together(unsure ? kind.unknown_spread : kind.spread,
                    contact_material_spread(lower.material, upper.material));
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
    resolved.includes_seat = resolved.basis == JointBasis::given || joint.kind.name.empty() ||
                             joint.dovetail || joint.jaws;
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
    if (resolved.basis != JointBasis::given && !joint.kind.name.empty() &&
        !joint.stiffness_spread) {
        resolved.stiffness_spread.factor = kind_spread(joint, lower, upper, resolved);
    }
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
