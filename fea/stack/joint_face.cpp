#include "fea/stack/joint_face.hpp"

#include <cmath>
#include <numbers>

#include "fea/stack/tier_section.hpp"

namespace standfast {
namespace {

struct Turned {
    SectionShape operator()(const BlockShape& shape) const {
        return BlockShape{.x = shape.y, .y = shape.x};
    }
    SectionShape operator()(const BoxShape& shape) const {
        return BoxShape{.x = shape.y, .y = shape.x, .wall = shape.wall};
    }
    SectionShape operator()(const GeneralShape& shape) const {
        return GeneralShape{
            .area = shape.area, .ix = shape.iy, .iy = shape.ix, .torsion = shape.torsion};
    }
    template <class Round>
    SectionShape operator()(const Round& shape) const {
        return shape;
    }
};

Material table_material() {
    Material iron;
    iron.youngs_modulus = 110e9;
    iron.poissons_ratio = 0.26;
    return iron;
}

/// Steel where nothing is said: a rigid body's material need not be filled in.
Material material_of(const Tier& tier) {
    if (tier.material.youngs_modulus > 0) return tier.material;
    Material steel;
    steel.youngs_modulus = 205e9;
    steel.poissons_ratio = 0.29;
    return steel;
}

bool has_sizes(const Tier& tier) { return !tier.lump || material_area(tier.shape) > 0; }

bool on_top_and_upright(const Tier& host, const Placement& placement) {
    const bool on_top = !placement.at || placement.at->z() > host.height - 1e-9;
    return on_top && std::abs(placement.lean) < 1e-9;
}

}  // namespace

JointFace lower_face(const Stack& stack, std::size_t tier) {
    const Tier& guest = stack.tiers[tier];
    if (!guest.placement.host) return {.shape = guest.shape, .material = table_material()};
    const Tier& host = stack.tiers[*guest.placement.host];
    const SectionShape top = shape_at(host, host.height);
    const double quarters =
        (guest.placement.heading + guest.placement.spin) / (std::numbers::pi / 2);
    const bool square = std::abs(quarters - std::round(quarters)) < 1e-6;
    if (!has_sizes(host) || !on_top_and_upright(host, guest.placement) || !square) {
        return {.shape = guest.shape, .material = material_of(host)};
    }
    const bool odd = std::lround(quarters) % 2 != 0;
    return {.shape = odd ? std::visit(Turned{}, top) : top, .material = material_of(host)};
}

JointFace upper_face(const Stack& stack, std::size_t tier) {
    const Tier& guest = stack.tiers[tier];
    if (has_sizes(guest)) return {.shape = guest.shape, .material = material_of(guest)};
    return {.shape = lower_face(stack, tier).shape, .material = material_of(guest)};
}

}  // namespace standfast
