#pragma once

#include <numbers>

#include "fea/job/job.hpp"
#include "materials/tables/load_catalogue.hpp"

namespace standfast::sample {

/// A small aluminium part in a dovetail on a 4 x 6 in steel riser, 5-axis machine whose table
/// tilts, BT40, 3/8 in cutter 2.25 in out of a shrink holder: all else from the catalogue.
/// Invented.
struct ShortestJob {
    Machine machine;
    Stack stack;
    ToolChain tool;
    Pass pass;
};

inline const Material& built_in_material(const char* name) {
    return *find_material(built_in_catalogue(), name);
}

inline Joint joint_of_kind(const char* name, JointUse use) {
    Joint joint;
    joint.kind = *find_joint(built_in_catalogue(), name, use);
    return joint;
}

constexpr double kInch = 0.0254;

inline Stack riser_and_part(double riser_height) {
    Tier riser, part;
    riser.name = "riser";
    riser.material = built_in_material("4140");
    riser.shape = RoundShape{4 * kInch};
    riser.height = riser_height;
    riser.joint = joint_of_kind("bolted", JointUse::stack);
    part.name = "part";
    part.material = built_in_material("6061");
    part.shape = BlockShape{2.75 * kInch, 2 * kInch};
    part.height = 3.75 * kInch;
    part.joint = joint_of_kind("dovetail", JointUse::stack);
    part.joint.dovetail = Dovetail{.length = 2.75 * kInch,
                                   .width = 1.25 * kInch,
                                   .flank = std::numbers::pi / 3,
                                   .depth = 3e-3,
                                   .clamp = 18e3};
    part.placement.host = 0;
    Stack stack;
    stack.tiers = {riser, part};
    return stack;
}

inline ToolChain shrunk_cutter(double stickout) {
    const Material& steel = built_in_material("4140");
    ToolChain tool;
    tool.name = "cutter";
    tool.taper = joint_of_kind("BT40", JointUse::taper);
    tool.grip = joint_of_kind("shrink", JointUse::grip);
    tool.holder = {
        {.diameter = 0.063, .diameter_to = 0.063, .length = 0.027, .material = steel},
        {.diameter = 0.0254, .diameter_to = 0.01905, .length = 0.063, .material = steel}};
    tool.cutter.diameter = tool.cutter.shank_diameter = 0.375 * kInch;
    tool.cutter.teeth = 3;
    tool.cutter.stickout = stickout;
    tool.cutter.flute_length = 0.875 * kInch;
    tool.cutter.material = built_in_material("carbide");
    return tool;
}

inline ShortestJob shortest_job() {
    ShortestJob job;
    job.machine.kind = *find_machine(built_in_catalogue(), "5-axis, table tilts");
    job.machine.spindle_kind = *find_spindle(built_in_catalogue(), "BT40");
    job.stack = riser_and_part(6 * kInch);
    job.tool = shrunk_cutter(2.25 * kInch);
    job.pass.tier = 1;
    job.pass.path = {{1.375 * kInch, 0, 3.75 * kInch}};
    return job;
}

}  // namespace standfast::sample
