#pragma once

#include <array>
#include <string>

#include "fea/job/job.hpp"

namespace standfast::sample {

/// Values as in the project's own material table; sources there.
inline Material steel_4140() {
    Material steel;
    steel.name = "steel 4140";
    steel.youngs_modulus = 205e9;
    steel.poissons_ratio = 0.29;
    steel.density = 7850;
    steel.loss_factor = 0.0005;
    return steel;
}

inline Material aluminium_6061() {
    Material aluminium;
    aluminium.name = "aluminium 6061-T6";
    aluminium.youngs_modulus = 68.9e9;
    aluminium.poissons_ratio = 0.33;
    aluminium.density = 2700;
    aluminium.loss_factor = 0.0001;
    return aluminium;
}

inline Material carbide() {
    Material carbide;
    carbide.name = "cemented carbide";
    carbide.youngs_modulus = 600e9;
    carbide.poissons_ratio = 0.22;
    carbide.density = 14450;
    carbide.loss_factor = 0.001;
    return carbide;
}

inline Machine rigid_machine() {
    Machine machine;
    machine.table.rigid = true;
    machine.spindle.rigid = true;
    return machine;
}

inline Joint solid_joint() {
    Joint joint;
    joint.solid = true;
    return joint;
}

inline JointNumbers numbers(double lateral, double vertical, double tilting, double twisting,
                            double loss = 0.03) {
    JointNumbers numbers;
    numbers.lateral = std::array{lateral, lateral};
    numbers.vertical = vertical;
    numbers.tilting = std::array{tilting, tilting};
    numbers.twisting = twisting;
    numbers.loss = loss;
    return numbers;
}

inline Joint given_joint(double lateral, double vertical, double tilting, double twisting,
                         double loss = 0.03) {
    Joint joint;
    joint.given = numbers(lateral, vertical, tilting, twisting, loss);
    return joint;
}

inline Tier tier(const std::string& name, const Material& material, const SectionShape& shape,
                 double height, const Joint& joint) {
    Tier tier;
    tier.name = name;
    tier.material = material;
    tier.shape = shape;
    tier.height = height;
    tier.joint = joint;
    return tier;
}

/// Puts a tier on top of the last one.
inline void put_on_top(Stack& stack, Tier tier) {
    if (!stack.tiers.empty()) tier.placement.host = stack.tiers.size() - 1;
    stack.tiers.push_back(std::move(tier));
}

/// A joint kind with figures per area, as a catalogue row might have them. Invented.
inline JointKind per_area_kind(const std::string& name, double lateral, double vertical) {
    JointKind kind;
    kind.name = name;
    kind.scaling = JointScaling::per_area;
    kind.lateral = lateral;
    kind.vertical = vertical;
    kind.loss_factor = 0.03;
    kind.spread = 2;
    kind.unknown_spread = 2.5;
    kind.contact_normal = 2.4e12;
    kind.contact_tangential = 0.5e12;
    kind.upper_factor = 100;
    kind.friction = 0.15;
    return kind;
}

}  // namespace standfast::sample
