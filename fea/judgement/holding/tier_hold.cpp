#include "fea/judgement/holding/tier_hold.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <variant>

#include "fea/quantities/require.hpp"

namespace standfast {
namespace {

constexpr double kUsualOverCareful = 1.5;
constexpr double kTouch = 1e-9;  // m; closer than this is the same place

SectionShape face_below(const Stack& stack, const Tier& tier) {
    if (!tier.placement.host || tier.placement.at) return tier.shape;
    const Tier& host = stack.tiers[*tier.placement.host];
    return host.top.value_or(host.shape);
}

bool is_round(const SectionShape& shape) {
    return std::holds_alternative<RoundShape>(shape) || std::holds_alternative<TubeShape>(shape);
}

PreloadedFace face_between(const SectionShape& upper, const SectionShape& lower) {
    const double x = std::min(width_x(upper), width_x(lower));
    const double y = std::min(width_y(upper), width_y(lower));
    PreloadedFace face;
    face.round = is_round(upper) || is_round(lower);
    face.half_x = (face.round ? std::min(x, y) : x) / 2;
    face.half_y = (face.round ? std::min(x, y) : y) / 2;
    return face;
}

double friction_of(const Joint& joint, HoldFigures figures) {
    const double friction = counted_friction(joint, figures);
    require_positive(friction, "holding", "friction of joint kind " + joint.kind.name);
    return friction;
}

/// A wedge needs its flank to be flatter than its friction allows; usual figures stop there.
double flank_friction(const Joint& joint, double flank, HoldFigures figures) {
    const double friction = friction_of(joint, figures);
    const bool wedges = flank + std::atan(friction) < std::numbers::pi / 2;
    return wedges ? friction : friction_of(joint, HoldFigures::careful);
}

std::optional<double> preload_of(const Joint& joint) {
    if (joint.preload) return joint.preload;
    if (!joint.screws || !joint.screws->torque || joint.screws->count < 1) return std::nullopt;
    // The low end of the nut factor's scatter: what is sure to be there.
    return joint.screws->count * screw_preload(*joint.screws->torque, joint.screws->diameter) /
           kPreloadSpread;
}

/// Along its length a dovetail holds only where the part still has it.
double held_length(const Dovetail& tail, const SectionShape& shape) {
    return tail.length > 0 ? std::min(tail.length, width_x(shape)) : width_x(shape);
}

void require_physical(const Hold& hold, const std::string& where) {
    if (const auto* face = std::get_if<PreloadedFace>(&hold)) {
        require_positive(face->preload, where, "preload");
    } else if (const auto* tail = std::get_if<ClampedDovetail>(&hold)) {
        require_positive(tail->clamp, where, "clamp force");
        require_positive(tail->width, where, "dovetail width");
        require_positive(tail->length, where, "dovetail length");
        require_between(tail->flank + std::atan(tail->friction), 0, std::numbers::pi / 2, where,
                        "flank angle plus friction angle");
    } else if (const auto* jaws = std::get_if<ClampedJaws>(&hold)) {
        require_positive(jaws->force, where, "clamp force");
        require_positive(jaws->length, where, "jaw length");
        require_positive(jaws->grip, where, "grip height");
        require_positive(jaws->width, where, "width between the jaws");
    }
}

std::optional<Hold> hold_as_given(const Stack& stack, const Tier& tier, HoldFigures figures) {
    const Joint& joint = tier.joint;
    if (joint.dovetail) {
        const Dovetail& tail = *joint.dovetail;
        if (!tail.clamp) return std::nullopt;
        return ClampedDovetail{.clamp = *tail.clamp,
                               .friction = flank_friction(joint, tail.flank, figures),
                               .flank = tail.flank,
                               .length = held_length(tail, tier.shape),
                               .width = tail.width};
    }
    if (joint.jaws) {
        const Jaws& jaws = *joint.jaws;
        if (!jaws.clamp) return std::nullopt;
        return ClampedJaws{.force = *jaws.clamp,
                           .friction = friction_of(joint, figures),
                           .length = jaws.length,
                           .grip = jaws.grip,
                           .width = jaws.width,
                           .seated = counts_seat(joint, figures)};
    }
    const std::optional<double> preload = preload_of(joint);
    if (!preload) return std::nullopt;
    PreloadedFace face = face_between(tier.shape, face_below(stack, tier));
    face.preload = *preload;
    face.friction = friction_of(joint, figures);
    return face;
}

/// Width across the clamped faces, joint y: what a cut must leave standing.
std::optional<double> contact_width(const Joint& joint) {
    if (joint.dovetail) return joint.dovetail->width;
    if (joint.jaws) return joint.jaws->width;
    return std::nullopt;
}

}  // namespace

double counted_friction(const Joint& joint, HoldFigures figures) {
    if (joint.friction) return *joint.friction;
    return figures == HoldFigures::careful ? joint.kind.friction
                                           : kUsualOverCareful * joint.kind.friction;
}

bool counts_seat(const Joint& joint, HoldFigures figures) {
    return joint.jaws && joint.jaws->seat.value_or(figures == HoldFigures::usual);
}

std::optional<Hold> hold_under(const Stack& stack, const Tier& tier, HoldFigures figures) {
    if (tier.joint.solid) return std::nullopt;
    const std::optional<Hold> hold = hold_as_given(stack, tier, figures);
    if (hold) require_physical(*hold, "holding of the joint under " + tier.name);
    return hold;
}

std::optional<FootSection> foot_section(const Tier& tier) {
    if (tier.lump || !tier.material.strength) return std::nullopt;
    FootSection foot{.strength = *tier.material.strength};
    if (tier.joint.dovetail && !tier.joint.solid) {
        const double x = held_length(*tier.joint.dovetail, tier.shape);
        const double y = tier.joint.dovetail->width;
        foot.area = x * y;
        foot.modulus_x = x * y * y / 6;
        foot.modulus_y = y * x * x / 6;
        return foot;
    }
    foot.area = material_area(tier.shape);
    foot.modulus_x = second_moment_about_x(tier.shape) / (width_y(tier.shape) / 2);
    foot.modulus_y = second_moment_about_y(tier.shape) / (width_x(tier.shape) / 2);
    return foot;
}

bool frees_part(const Tier& tier, const Pass& pass) {
    const Joint& joint = tier.joint;
    if (joint.solid) return false;
    double half_x = width_x(tier.shape) / 2, half_y = width_y(tier.shape) / 2;
    if (const std::optional<double> width = contact_width(joint)) {
        if (2 * half_y < *width - kTouch) return true;
        half_y = *width / 2;
    }
    if (joint.dovetail) half_x = held_length(*joint.dovetail, tier.shape) / 2;
    return std::any_of(pass.path.begin(), pass.path.end(), [&](const Eigen::Vector3d& place) {
        return place.z() <= kTouch && std::abs(place.x()) < half_x - kTouch &&
               std::abs(place.y()) < half_y - kTouch;
    });
}

}  // namespace standfast
