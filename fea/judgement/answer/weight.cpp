#include "fea/judgement/answer/weight.hpp"

#include <Eigen/Geometry>
#include <cmath>
#include <variant>

#include "fea/stack/frames.hpp"

namespace standfast {
namespace {

double lerp(double a, double b, double t) { return a + (b - a) * t; }

RoundShape between(const RoundShape& a, const RoundShape& b, double t) {
    return {lerp(a.diameter, b.diameter, t)};
}
TubeShape between(const TubeShape& a, const TubeShape& b, double t) {
    return {lerp(a.outer, b.outer, t), lerp(a.inner, b.inner, t)};
}
BlockShape between(const BlockShape& a, const BlockShape& b, double t) {
    return {lerp(a.x, b.x, t), lerp(a.y, b.y, t)};
}
BoxShape between(const BoxShape& a, const BoxShape& b, double t) {
    return {lerp(a.x, b.x, t), lerp(a.y, b.y, t), lerp(a.wall, b.wall, t)};
}
GeneralShape between(const GeneralShape& a, const GeneralShape& b, double t) {
    return {lerp(a.area, b.area, t), lerp(a.ix, b.ix, t), lerp(a.iy, b.iy, t),
            lerp(a.torsion, b.torsion, t)};
}

SectionShape middle_shape(const Tier& tier) {
    if (!tier.top) return tier.shape;
    return std::visit(
        [&](const auto& foot) -> SectionShape {
            using Shape = std::decay_t<decltype(foot)>;
            const auto* top = std::get_if<Shape>(&*tier.top);
            return top ? between(foot, *top, 0.5) : foot;
        },
        tier.shape);
}

PointMass body_mass(const Tier& tier) {
    if (tier.lump) return {tier.lump->mass, tier.lump->centre};
    const double foot = material_area(tier.shape);
    const double middle = material_area(middle_shape(tier));
    const double top = tier.top ? material_area(*tier.top) : foot;
    const double volume = tier.height * (foot + 4 * middle + top) / 6;
    const double moment = tier.height * tier.height * (2 * middle + top) / 6;
    const double height = volume > 0 ? moment / volume : 0;
    return {volume * tier.material.density, {0, 0, height}};
}

void add(PointMass& total, const PointMass& part) {
    const double mass = total.mass + part.mass;
    if (mass > 0) total.centre = (total.mass * total.centre + part.mass * part.centre) / mass;
    total.mass = mass;
}

PointMass in_stack_axes(const PointMass& local, const TierFrame& frame) {
    return {local.mass, frame.foot + frame.axes * local.centre};
}

}  // namespace

PointMass tier_mass(const Tier& tier) {
    PointMass total = body_mass(tier);
    for (const SideMass& side : tier.side) add(total, {side.mass, side.at});
    return total;
}

PointMass carried_mass(const Stack& stack, const std::vector<TierFrame>& frames, std::size_t root) {
    std::vector<bool> carried(stack.tiers.size(), false);
    PointMass total;
    for (std::size_t i = root; i < stack.tiers.size(); ++i) {
        const auto& host = stack.tiers[i].placement.host;
        carried[i] = i == root || (host && carried[*host]);
        if (carried[i]) add(total, in_stack_axes(tier_mass(stack.tiers[i]), frames[i]));
    }
    return total;
}

PointMass stack_mass(const Stack& stack, const std::vector<TierFrame>& frames) {
    PointMass total;
    for (std::size_t i = 0; i < stack.tiers.size(); ++i) {
        add(total, in_stack_axes(tier_mass(stack.tiers[i]), frames[i]));
    }
    return total;
}

Eigen::Vector3d gravity_direction(const Machine& machine, const Pass& pass) {
    const bool lying_spindle = machine.kind.name.find("horizontal") != std::string::npos;
    if (!machine.table_turns || lying_spindle) return -Eigen::Vector3d::UnitZ();
    return -tool_axes(pass.tilt, pass.turn, 0).col(2);
}

WeightResult judge_weight(const Machine& machine, const Stack& stack, const Pass& pass) {
    const PointMass total = stack_mass(stack, tier_frames(stack));
    const Eigen::Vector3d weight = total.mass * kGravity * gravity_direction(machine, pass);
    const Eigen::Vector3d axis(0, 0, machine.tilt_axis_above_table.value_or(0));
    return {.mass = total.mass,
            .allowed = machine.carry_max,
            .tilt_moment = (total.centre - axis).cross(weight).norm(),
            .tilt_moment_allowed = machine.tilt_moment_max};
}

}  // namespace standfast
