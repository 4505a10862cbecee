#pragma once

#include <numbers>

#include "fea/job/job.hpp"

namespace standfast {

// An invented job for tests: a part in a dovetail on a riser on a plate, one long finisher. All
// joints have their numbers outright, so that no catalogue is needed.

inline constexpr double kTestDegree = std::numbers::pi / 180;

inline Material test_metal(const std::string& name, double youngs, double density,
                           double strength) {
    Material metal;
    metal.name = name;
    metal.youngs_modulus = youngs;
    metal.poissons_ratio = 0.3;
    metal.density = density;
    metal.loss_factor = 0.002;
    metal.strength = strength;
    return metal;
}
inline Material test_steel() { return test_metal("steel", 205e9, 7850, 650e6); }
inline Material test_aluminium() { return test_metal("aluminium", 69e9, 2700, 275e6); }
inline Material test_carbide() { return test_metal("carbide", 600e9, 14450, 3.6e9); }

inline Joint test_joint(double lateral, double vertical, double tilting) {
    Joint joint;
    joint.given = {.lateral = std::array{lateral, lateral},
                   .vertical = vertical,
                   .tilting = std::array{tilting, tilting},
                   .twisting = tilting,
                   .loss = 0.04};
    joint.friction = 0.15;
    return joint;
}

inline Tier test_tier(const std::string& name, const Material& material, const SectionShape& shape,
                      double height, Joint joint) {
    Tier tier;
    tier.name = name;
    tier.material = material;
    tier.shape = shape;
    tier.height = height;
    tier.joint = std::move(joint);
    return tier;
}

inline Stack test_stack(double part_height = 0.095, double riser_height = 0.150) {
    Joint bolted = test_joint(400e6, 1.5e9, 3e6);
    bolted.preload = 140e3;
    Joint dovetail = test_joint(200e6, 600e6, 0.15e6);
    dovetail.dovetail = Dovetail{
        .length = 0.060, .width = 0.032, .flank = 60 * kTestDegree, .depth = 0.004, .clamp = 18e3};
    Stack stack;
    stack.tiers = {
        test_tier("plate", test_steel(), BlockShape{0.18, 0.18}, 0.030, bolted),
        test_tier("riser", test_steel(), RoundShape{0.10}, riser_height, bolted),
        test_tier("part", test_aluminium(), BlockShape{0.070, 0.050}, part_height, dovetail)};
    stack.tiers[1].placement.host = 0;
    stack.tiers[2].placement.host = 1;
    return stack;
}

inline ToolChain test_tool() {
    ToolChain tool;
    tool.name = "long finisher";
    const Material steel = test_steel();
    tool.holder = {{.diameter = 0.050, .diameter_to = 0.050, .length = 0.035, .material = steel},
                   {.diameter = 0.032, .diameter_to = 0.026, .length = 0.060, .material = steel}};
    tool.taper = test_joint(300e6, 500e6, 1.5e6);
    tool.grip = test_joint(150e6, 300e6, 30e3);
    tool.grip_length = 0.040;
    tool.cutter.diameter = 0.010;
    tool.cutter.teeth = 4;
    tool.cutter.helix = 40 * kTestDegree;
    tool.cutter.flute_length = 0.025;
    tool.cutter.shank_diameter = 0.010;
    tool.cutter.stickout = 0.058;
    tool.cutter.overall = 0.100;
    tool.cutter.material = test_carbide();
    return tool;
}

inline Machine test_machine() {
    Machine machine;
    machine.slowest = SpindleSpeed::from_rpm(600);
    machine.fastest = SpindleSpeed::from_rpm(15000);
    machine.table.given = {.lateral = std::array{150e6, 150e6},
                           .vertical = 400e6,
                           .tilting = std::array{6e6, 6e6},
                           .twisting = 4e6,
                           .loss = 0.04};
    machine.spindle.given = {.lateral = std::array{60e6, 60e6},
                             .vertical = 150e6,
                             .tilting = std::array{0.8e6, 0.8e6},
                             .twisting = 0.5e6,
                             .loss = 0.05};
    machine.spindle.nose_diameter = 0.08;
    machine.spindle.nose_length = 0.16;
    return machine;
}

inline Pass test_pass(double part_height = 0.095) {
    Pass pass;
    pass.name = "finish the tall wall";
    pass.tier = 2;
    pass.path = {{0.035, 0.020, part_height - 0.020}, {0.035, -0.020, part_height - 0.020}};
    pass.wall = Eigen::Vector3d::UnitX();
    pass.cutting.mechanistic = MechanisticForces{.tangential = 700e6,
                                                 .radial = 280e6,
                                                 .axial = 200e6,
                                                 .tangential_edge = 13e3,
                                                 .radial_edge = 10e3,
                                                 .axial_edge = 2e3};
    pass.cutting.cutting_speed = std::array{200.0 / 60, 600.0 / 60};
    pass.radial = 0.3e-3;
    pass.axial = 20e-3;
    pass.feed_per_tooth = 0.06e-3;
    pass.speed = SpindleSpeed::from_rpm(9000);
    pass.tolerance = 0.05e-3;
    return pass;
}

inline Job test_job(double part_height = 0.095, double riser_height = 0.150) {
    Job job;
    job.title = "invented job for tests";
    job.machine = test_machine();
    job.stack = test_stack(part_height, riser_height);
    job.tools = {test_tool()};
    job.passes = {test_pass(part_height)};
    return job;
}

}  // namespace standfast
