#include "fea/stack/tool_model.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <string>

#include "fea/quantities/require.hpp"
#include "fea/stack/joint_stiffness.hpp"
#include "fea/stack/springs.hpp"
#include "fea/structure/element_counts.hpp"

namespace standfast {
namespace {

std::vector<CutterRun> spelled_out(const Cutter& cutter) {
    std::vector<CutterRun> runs;
    double sum = 0;
    for (const CutterSegment& segment : cutter.segments) {
        require_positive(segment.length, "cutter segment", "length");
        require_positive(segment.diameter, "cutter segment", "diameter");
        sum += segment.length;
        runs.push_back(
            {.diameter = segment.diameter, .length = segment.length, .material = segment.material});
    }
    runs.front().length += stickout_of(cutter) - sum;
    require_positive(runs.front().length, "cutter",
                     "length of the uppermost segment at this stickout");
    return runs;
}

std::vector<CutterRun> fluted(const Cutter& cutter) {
    const double stickout = stickout_of(cutter);
    require_positive(stickout, "cutter", "stickout");
    require_positive(cutter.diameter, "cutter", "diameter");
    require_not_negative(cutter.flute_length, "cutter", "flute length");
    require_not_negative(cutter.neck_length, "cutter", "neck length");
    const double flute = std::min(cutter.flute_length, stickout);
    const double neck = std::min(cutter.neck_length, stickout - flute);
    const double shank = stickout - flute - neck;
    std::vector<CutterRun> runs;
    // A sliver of shank left by rounding is no run.
    const double least = 1e-6 * stickout;
    const auto add = [&](double diameter, double length, const char* what) {
        if (length <= least) return;
        require_positive(diameter, "cutter", what);
        runs.push_back({.diameter = diameter, .length = length, .material = cutter.material});
    };
    add(cutter.shank_diameter, shank, "shank diameter");
    add(cutter.neck_diameter, neck, "neck diameter");
    add(cutter.flute_factor * cutter.diameter, flute, "equivalent diameter of the flutes");
    return runs;
}

void require_grip(const ToolChain& tool) {
    const Cutter& cutter = tool.cutter;
    if (!cutter.overall || tool.grip.kind.on_pilot) return;
    require_positive(*cutter.overall - stickout_of(cutter), "cutter",
                     "shank left in the grip, m (overall length less stickout),");
}

Spread modulus_spread(const Material& material) {
    return {.group = "modulus: " + material.name, .factor = material.modulus_spread};
}
Spread loss_spread(const Material& material) {
    return {.group = "loss factor: " + material.name, .factor = material.loss_spread};
}

struct Builder {
    ToolModel model;
    double z = 0;      ///< m, where the chain has got to, from the tip up
    Attachment above;  ///< its lower end
};

int add_member(Builder& builder, const char* name, MemberKind kind) {
    builder.model.structure.members.push_back({.name = name, .kind = kind});
    return static_cast<int>(builder.model.structure.members.size()) - 1;
}

Attachment add_node(Builder& builder) {
    builder.model.structure.nodes.emplace_back(0, 0, builder.z);
    return {.node = static_cast<int>(builder.model.structure.nodes.size()) - 1,
            .arm = Eigen::Vector3d::Zero()};
}

void add_springs(Builder& builder, const ResolvedJoint& joint, const char* name, MemberKind kind) {
    if (joint.basis == JointBasis::solid) return;
    const int member = add_member(builder, name, kind);
    const Attachment next = add_node(builder);
    builder.model.structure.joints.push_back(
        joint_element(joint, member, builder.above, next, Eigen::Matrix3d::Identity()));
    builder.above = next;
}

/// Springs of the spindle with what moves on them, at the gauge line.
void add_spindle(Builder& builder, const Machine& machine) {
    if (machine.spindle.rigid) return;
    const ResolvedJoint springs = spindle_springs(machine, builder.model.notes);
    add_springs(builder, springs, "spindle", MemberKind::spindle);
    const MovingMass moving = spindle_mass(machine);
    if (!(moving.mass > 0)) return;
    builder.model.structure.lumps.push_back(
        {.member = static_cast<int>(builder.model.structure.members.size()) - 1,
         .at = {.node = builder.above.node, .arm = {0, 0, moving.centre}},
         .mass = moving.mass,
         .inertia = moving.inertia.asDiagonal(),
         .spread = moving.spread});
}

void add_run(Builder& builder, int member, BeamRun run, double length) {
    run.member = member;
    run.start = builder.above;
    builder.z -= length;
    run.end = add_node(builder);
    run.modulus_spread = modulus_spread(run.material);
    run.loss_spread = loss_spread(run.material);
    builder.above = run.end;
    builder.model.structure.beams.push_back(std::move(run));
}

void add_nut(Builder& builder, int member, const HolderStep& step) {
    require_not_negative(step.extra_mass, "holder", "mass of a nut");
    require_not_negative(step.extra_inertia, "holder", "inertia of a nut");
    if (!(step.extra_mass > 0)) return;
    builder.model.structure.lumps.push_back(
        {.member = member,
         .at = builder.above,
         .mass = step.extra_mass,
         .inertia = step.extra_inertia * Eigen::Matrix3d::Identity()});
}

void add_step(Builder& builder, int member, const HolderStep& step) {
    require_positive(step.length, "holder", "length of a step");
    require_positive(step.diameter, "holder", "diameter of a step");
    const double top = step.diameter;
    const double bottom = step.diameter_to > 0 ? step.diameter_to : step.diameter;
    const double poisson = step.material.poissons_ratio;
    BeamRun run;
    run.material = step.material;
    run.section = solid_round(top, poisson);
    if (bottom != top) {
        run.taper = [top, bottom, poisson](double fraction) {
            return solid_round(std::lerp(top, bottom, fraction), poisson);
        };
    }
    add_run(builder, member, std::move(run), step.length);
    add_nut(builder, member, step);
}

void add_holder(Builder& builder, const ToolChain& tool) {
    if (tool.holder.empty()) return;
    const int member = add_member(builder, "holder", MemberKind::holder);
    for (const HolderStep& step : tool.holder) add_step(builder, member, step);
}

/// The runs cut at heights above the tip, so that each gets a node.
std::vector<CutterRun> split_at(const std::vector<CutterRun>& runs,
                                const std::vector<double>& heights) {
    double top = 0;
    for (const CutterRun& run : runs) top += run.length;
    const double least = 1e-6 * top;
    std::vector<CutterRun> pieces;
    for (CutterRun run : runs) {
        const double bottom = top - run.length;
        for (auto height = heights.rbegin(); height != heights.rend(); ++height) {
            if (*height > top - least || *height < bottom + least) continue;
            CutterRun piece = run;
            piece.length = top - *height;
            pieces.push_back(piece);
            top = *height;
        }
        run.length = top - bottom;
        pieces.push_back(run);
        top = bottom;
    }
    return pieces;
}

/// Of each height the node nearest to it along the cutter, from its uppermost down.
std::vector<int> nodes_at(const Builder& builder, const Attachment& uppermost, double top,
                          const std::vector<double>& heights) {
    const auto& nodes = builder.model.structure.nodes;
    std::vector<int> found;
    for (const double height : heights) {
        int nearest = uppermost.node;
        double away = std::abs(top - height);
        for (int node = uppermost.node + 1; node < static_cast<int>(nodes.size()); ++node) {
            const double distance = std::abs(nodes[static_cast<std::size_t>(node)].z() - height);
            if (distance < away) {
                away = distance;
                nearest = node;
            }
        }
        found.push_back(nearest);
    }
    return found;
}

void add_cutter(Builder& builder, const std::vector<CutterRun>& runs) {
    const int member = add_member(builder, "cutter", MemberKind::cutter);
    for (const CutterRun& cylinder : runs) {
        BeamRun run;
        run.material = cylinder.material;
        run.section = solid_round(cylinder.diameter, cylinder.material.poissons_ratio);
        add_run(builder, member, std::move(run), cylinder.length);
    }
}

void note_catalogue(Builder& builder, const std::string& path, const Joint& joint,
                    const ResolvedJoint& resolved) {
    if (resolved.basis != JointBasis::catalogue) return;
    builder.model.notes.push_back(
        {.path = path,
         .value = resolved.translation.x(),
         .quantity = Quantity::stiffness,
         .text = "lateral stiffness of a median \"" + joint.kind.name + "\" in the catalogue",
         .source = joint.kind.source.text});
}

}  // namespace

std::vector<CutterRun> cutter_runs(const Cutter& cutter) {
    return cutter.segments.empty() ? fluted(cutter) : spelled_out(cutter);
}

ToolModel tool_model(const Machine& machine, const ToolChain& tool) {
    return tool_model(machine, tool, {});
}

ToolModel tool_model(const Machine& machine, const ToolChain& tool,
                     const std::vector<double>& heights) {
    const std::vector<CutterRun> runs = cutter_runs(tool.cutter);
    require_grip(tool);
    const double shank = runs.front().diameter;
    const std::string path = "tool \"" + tool.name + '"';
    Builder builder;
    builder.z = gauge_length(tool);
    builder.above = {.node = kGround, .arm = {0, 0, builder.z}};

    add_spindle(builder, machine);
    if (!machine.spindle.includes_taper) {
        const ResolvedJoint taper = resolve_tool_joint(tool.taper, shank);
        note_catalogue(builder, path + ".taper", tool.taper, taper);
        add_springs(builder, taper, "taper", MemberKind::taper);
    }
    add_holder(builder, tool);
    const double gripped = tool.cutter.shank_diameter > 0 ? tool.cutter.shank_diameter : shank;
    const ResolvedJoint grip = resolve_tool_joint(tool.grip, gripped);
    note_catalogue(builder, path + ".grip", tool.grip, grip);
    add_springs(builder, grip, "grip", MemberKind::grip);
    const Attachment uppermost = builder.above;
    const double face = builder.z;
    add_cutter(builder, split_at(runs, heights));
    builder.model.edge_nodes = nodes_at(builder, uppermost, face, heights);
    choose_elements(builder.model.structure);
    builder.model.tip_node = builder.above.node;
    return std::move(builder.model);
}

}  // namespace standfast
