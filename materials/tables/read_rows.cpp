#include "materials/tables/read_rows.hpp"

#include <array>

namespace standfast {
namespace {

using enum Quantity;

constexpr Interval spread_factor{1, 20};
constexpr Interval loss_factor{0, 1};

MechanisticForces read_mechanistic(RowReader& row) {
    MechanisticForces forces;
    forces.tangential = row.required_quantity("tangential", pressure);
    forces.radial = row.required_quantity("radial", pressure, Sign::zero_or_more);
    forces.axial = row.quantity_or("axial", pressure, 0, Sign::zero_or_more);
    const auto edge = [&](const char* key) {
        return row.quantity_or(key, force_per_length, 0, Sign::zero_or_more);
    };
    forces.tangential_edge = edge("tangential_edge");
    forces.radial_edge = edge("radial_edge");
    forces.axial_edge = edge("axial_edge");
    forces.edge_from_neighbours = row.flag_or("edge_from_neighbours", false);
    return forces;
}

KienzleForces read_kienzle(RowReader& row) {
    KienzleForces forces;
    forces.kc11 = row.required_quantity("kc11", pressure);
    forces.exponent = row.required_number("mc", {0, 0.9});
    forces.radial_ratio = row.required_number("radial_ratio", {0, 3});
    forces.axial_ratio = row.number_or("axial_ratio", {0, 3}, 0);
    return forces;
}

void read_joint_stiffness(RowReader& row, JointKind& kind) {
    const bool per_area = kind.scaling == JointScaling::per_area;
    const Quantity translation = per_area ? stiffness_per_area : stiffness;
    kind.lateral = row.required_quantity("lateral", translation);
    kind.vertical = row.required_quantity("vertical", translation);
    if (per_area) return;
    // A support touches at a point: no moment, hence 0 is allowed.
    kind.tilting = row.required_quantity("tilting", angular_stiffness, Sign::zero_or_more);
    kind.twisting = row.required_quantity("twisting", angular_stiffness, Sign::zero_or_more);
}

}  // namespace

Material read_material(RowReader& row) {
    Material material;
    material.youngs_modulus = row.required_quantity("youngs", pressure);
    material.poissons_ratio = row.required_number("poisson", {0.0, 0.499});
    material.density = row.required_quantity("density", density);
    material.loss_factor = row.required_number("loss", loss_factor);
    material.modulus_spread = row.number_or("modulus_spread", spread_factor, 1.02);
    material.loss_spread = row.number_or("loss_spread", spread_factor, 3);
    material.strength = row.optional_quantity("strength", pressure);
    material.cutting = row.text_or("cutting", "");
    return material;
}

CuttingData read_cutting(RowReader& row) {
    CuttingData data;
    if (row.has("tangential")) data.mechanistic = read_mechanistic(row);
    if (row.has("kc11")) data.kienzle = read_kienzle(row);
    if (!data.mechanistic && !data.kienzle) {
        row.refuse(R"(needs "tangential" and "radial", or "kc11", "mc" and "radial_ratio")");
    }
    data.cutting_speed = row.optional_range("cutting_speed", surface_speed);
    data.spread = row.number_or("spread", spread_factor, 1.25);
    data.process_damping = row.optional_quantity("process_damping", force_per_length);
    data.process_damping_of_group = data.process_damping.has_value();
    return data;
}

JointKind read_joint(RowReader& row) {
    static constexpr std::array uses{JointUse::stack, JointUse::taper, JointUse::grip};
    static constexpr std::array scalings{JointScaling::per_area, JointScaling::absolute,
                                         JointScaling::per_shank};
    JointKind kind;
    kind.use = uses.at(row.required_choice("use", {"stack", "taper", "grip"}));
    kind.scaling =
        scalings.at(row.required_choice("scaling", {"per area", "absolute", "per shank"}));
    read_joint_stiffness(row, kind);
    kind.loss_factor = row.required_number("loss", loss_factor);
    kind.spread = row.required_number("spread", spread_factor);
    kind.unknown_spread = row.number_or("unknown_spread", spread_factor, kind.spread);
    kind.loss_spread = row.number_or("loss_spread", spread_factor, 2);
    kind.contact_normal =
        row.quantity_or("contact_normal", stiffness_per_area, 0, Sign::zero_or_more);
    kind.contact_tangential =
        row.quantity_or("contact_tangential", stiffness_per_area, 0, Sign::zero_or_more);
    kind.bearing = row.number_or("bearing", {1e-3, 1}, 1);
    kind.upper_factor = row.number_or("upper_factor", {1, 100}, 3);
    kind.friction = row.required_number("friction", {0, 1});
    kind.assumed_clamp = row.quantity_or("assumed_clamp", force, 0, Sign::zero_or_more);
    kind.holds = row.optional_range("holds", length);
    kind.on_pilot = row.flag_or("on_pilot", false);
    kind.speed_limit = row.optional_quantity("speed_limit", rotational_speed);
    kind.flange_diameter = row.optional_quantity("flange_diameter", length);
    kind.gauge_diameter = row.optional_quantity("gauge_diameter", length);
    kind.draw_force = row.optional_quantity("draw_force", force);
    return kind;
}

MachineKind read_machine(RowReader& row) {
    MachineKind kind;
    kind.lateral = row.required_quantity("lateral", stiffness);
    kind.vertical = row.required_quantity("vertical", stiffness);
    kind.tilting = row.required_quantity("tilting", angular_stiffness);
    kind.twisting = row.required_quantity("twisting", angular_stiffness);
    kind.loss_factor = row.required_number("loss", loss_factor);
    kind.spread = row.required_number("spread", spread_factor);
    kind.loss_spread = row.number_or("loss_spread", spread_factor, 2);
    kind.tilt_max = row.optional_quantity("tilt_max", angle);
    kind.table_turns = row.flag_or("table_turns", false);
    kind.table_diameter = row.required_quantity("table_diameter", length);
    kind.table_mass = row.quantity_or("table_mass", mass, 0, Sign::zero_or_more);
    kind.mass_spread = row.number_or("mass_spread", spread_factor, 1);
    return kind;
}

SpindleKind read_spindle(RowReader& row) {
    SpindleKind kind;
    kind.lateral = row.required_quantity("lateral", stiffness);
    kind.axial = row.required_quantity("axial", stiffness);
    kind.tilting = row.required_quantity("tilting", angular_stiffness);
    kind.twisting = row.required_quantity("twisting", angular_stiffness);
    kind.loss_factor = row.required_number("loss", loss_factor);
    kind.spread = row.required_number("spread", spread_factor);
    kind.loss_spread = row.number_or("loss_spread", spread_factor, 2);
    kind.nose_diameter = row.required_quantity("nose_diameter", length);
    kind.nose_length = row.required_quantity("nose_length", length);
    kind.power = row.quantity_or("power", power, 0, Sign::zero_or_more);
    kind.torque = row.quantity_or("torque", torque, 0, Sign::zero_or_more);
    kind.mass = row.quantity_or("mass", mass, 0, Sign::zero_or_more);
    kind.inertia = row.quantity_or("inertia", inertia, 0, Sign::zero_or_more);
    kind.centre = row.quantity_or("centre", length, 0, Sign::zero_or_more);
    kind.mass_spread = row.number_or("mass_spread", spread_factor, 1);
    return kind;
}

HolderKind read_holder(RowReader& row) {
    HolderKind kind;
    for (RowReader& step : row.required_rows("steps")) {
        const double round = step.required_quantity("round", length);
        const double to = step.quantity_or("to", length, round, Sign::positive);
        kind.steps.push_back({.diameter = round,
                              .diameter_to = to,
                              .length = step.required_quantity("length", length)});
        step.refuse_unknown_keys();
    }
    return kind;
}

}  // namespace standfast
