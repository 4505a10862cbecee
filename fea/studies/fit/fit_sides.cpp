#include "fea/studies/fit/fit_sides.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "fea/judgement/cut/sides.hpp"
#include "fea/quantities/require.hpp"
#include "fea/stack/stack_model.hpp"
#include "fea/stack/tool_model.hpp"

namespace standfast {
namespace {

/// Node above the springs of a kind of member; ground where there are none.
MaterialPoint node_above(const StructureModel& structure, MemberKind kind) {
    for (const JointElement& joint : structure.joints) {
        if (structure.members[static_cast<std::size_t>(joint.member)].kind == kind) {
            return joint.above;
        }
    }
    return {};
}

FitSide side_of(const Job& job, StructureModel structure, std::optional<std::size_t> tool,
                FitUnknowns& unknowns) {
    FitSide side;
    side.tool = tool;
    side.structure = std::move(structure);
    side.system = assemble(side.structure);
    side.moves = add_unknowns(unknowns, side.system, job, tool);
    side.base = node_above(side.structure, tool ? MemberKind::spindle : MemberKind::table);
    return side;
}

void require_modelled_stack(const Stack& stack) {
    if (stack.rigid || !stack.modes.empty() || stack.tiers.empty()) {
        throw std::domain_error(
            "fit: the stack is rigid or given by its modes, so it has no joints to adjust");
    }
}

Eigen::Vector3d position_of(const FitSide& side, const MaterialPoint& point) {
    if (point.node == kGround) return point.arm;
    return side.system.nodes[static_cast<std::size_t>(point.node)] + point.arm;
}

MaterialPoint point_on_tool(const FitSide& side, const Job& job, const MeasuredPlace& place) {
    const std::string subject = "tool \"" + job.tools[*side.tool].name + "\"";
    require_between(place.at.z(), -1e-9, gauge_length(job.tools[*side.tool]) + 1e-9, subject,
                    "height of the place above the tip, m,");
    // Of nodes at one height the last is nearest to the tip: below the joint, not above it.
    int nearest = 0;
    double least = 1e9;
    for (std::size_t node = 0; node < side.system.nodes.size(); ++node) {
        const double distance = std::abs(side.system.nodes[node].z() - place.at.z());
        if (distance <= least + 1e-12) {
            least = std::min(least, distance);
            nearest = static_cast<int>(node);
        }
    }
    return {.node = nearest,
            .arm = place.at - side.system.nodes[static_cast<std::size_t>(nearest)]};
}

}  // namespace

AssembledSystem moved_system(const FitSide& side, const FitPoint& point) {
    AssembledSystem system = side.system;
    const auto factor = [](int index, const Eigen::VectorXd& logs) {
        return index < 0 ? 1.0 : std::exp(logs[index]);
    };
    for (std::size_t i = 0; i < system.stiffness.size(); ++i) {
        StiffnessParameter& parameter = system.stiffness[i];
        parameter.value *= factor(side.moves.stiffness[i], point.unknown) *
                           factor(side.moves.stiffness_nuisance[i], point.nuisance);
        parameter.loss_factor *= factor(side.moves.loss[i], point.unknown) *
                                 factor(side.moves.loss_nuisance[i], point.nuisance);
    }
    return system;
}

FitSide stack_side(const Job& job, const std::vector<MeasuredPlace>& places,
                   FitUnknowns& unknowns) {
    require_modelled_stack(job.stack);
    std::vector<CutHeights> heights;
    for (const MeasuredPlace& place : places) {
        if (!place.tool) heights.push_back({.tier = place.tier, .heights = {place.at.z()}});
    }
    return side_of(job, stack_model(job.machine, job.stack, heights).structure, std::nullopt,
                   unknowns);
}

FitSide tool_side(const Job& job, std::size_t tool, FitUnknowns& unknowns) {
    const ToolChain& chain = job.tools.at(tool);
    if (chain.rigid || !chain.modes.empty()) {
        throw std::domain_error("fit: tool \"" + chain.name +
                                "\" is rigid or given by its modes, so it has no joints to adjust");
    }
    return side_of(job, tool_model(job.machine, chain).structure, tool, unknowns);
}

FitSide pass_side(const Job& job, std::size_t pass_index, FitUnknowns& unknowns,
                  MaterialPoint& cut) {
    require_modelled_stack(job.stack);
    const Pass& pass = job.passes.at(pass_index);
    const Stack now = pass.state ? in_state(job.stack, pass.tier, *pass.state) : job.stack;
    const Eigen::Vector3d place = judged_place(job, pass);
    StackModel model = stack_model(job.machine, now, {{.tier = pass.tier, .heights = {place.z()}}});
    cut = point_on_tier(model, pass.tier, place);
    FitSide side = side_of(job, std::move(model.structure), std::nullopt, unknowns);
    side.pass = pass_index;
    return side;
}

MaterialPoint point_of(const FitSide& side, const Job& job, const MeasuredPlace& place) {
    if (side.tool) return point_on_tool(side, job, place);
    const std::vector<TierFrame> frames = tier_frames(job.stack);
    const TierFrame& frame = frames.at(place.tier);
    const Tier& tier = job.stack.tiers[place.tier];
    require_between(place.at.z(), -1e-9, tier.height + 1e-9, "tier \"" + tier.name + "\"",
                    "height of the measured place above its foot, m,");
    // The model has a node on the tier's axis at this height; an arm leads to the place.
    const Eigen::Vector3d wanted = frame.foot + frame.axes * place.at;
    const Eigen::Vector3d on_axis = frame.foot + place.at.z() * frame.axes.col(2);
    int nearest = kGround;
    double least = 1e-6;
    for (const BeamRun& run : side.structure.beams) {
        const Member& member = side.structure.members[static_cast<std::size_t>(run.member)];
        if (member.kind != MemberKind::tier || member.name != tier.name) continue;
        for (const Attachment& end : {run.start, run.end}) {
            const double distance = (position_of(side, end) - on_axis).norm();
            if (end.node != kGround && distance <= least) {
                least = distance;
                nearest = end.node;
            }
        }
    }
    for (const Lump& lump : side.structure.lumps) {
        const Member& member = side.structure.members[static_cast<std::size_t>(lump.member)];
        if (nearest == kGround && member.kind == MemberKind::tier && member.name == tier.name) {
            nearest = lump.at.node;
        }
    }
    if (nearest == kGround) {
        throw std::domain_error("fit: tier \"" + tier.name + "\" does not move at this place");
    }
    return {.node = nearest, .arm = wanted - side.system.nodes[static_cast<std::size_t>(nearest)]};
}

Eigen::MatrixXd seen_motion(const FitSide& side, const MaterialPoint& point, bool against_base) {
    Eigen::MatrixXd motion = point_displacement(side.system, point);
    if (!against_base || side.base.node == kGround) return motion;
    MaterialPoint carried = side.base;
    carried.arm += position_of(side, point) - position_of(side, side.base);
    return motion - Eigen::MatrixXd(point_displacement(side.system, carried));
}

}  // namespace standfast
