#include "fea/stack/stack_model.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <string>

#include "fea/quantities/require.hpp"
#include "fea/stack/joint_face.hpp"
#include "fea/stack/seat_give.hpp"
#include "fea/stack/springs.hpp"
#include "fea/stack/tier_section.hpp"
#include "fea/stack/wanted_heights.hpp"
#include "fea/structure/element_counts.hpp"

namespace standfast {
namespace {

// What remains between the law of seats and solid models; judgement.
constexpr double kSeatSpread = 1.3;

struct Builder {
    const Machine& machine;
    const Stack& stack;
    std::vector<std::vector<double>> heights;  ///< per tier: where nodes are wanted
    StackModel model;
    Attachment table;
};

std::string quoted(const Tier& tier) { return "tier \"" + tier.name + '"'; }

int add_node(StackModel& model, const Eigen::Vector3d& position) {
    model.structure.nodes.push_back(position);
    return static_cast<int>(model.structure.nodes.size()) - 1;
}

int add_member(StackModel& model, std::string name, MemberKind kind) {
    model.structure.members.push_back({.name = std::move(name), .kind = kind});
    return static_cast<int>(model.structure.members.size()) - 1;
}

/// Rigid arm from the station of a tier that is nearest in height to a place in tier axes.
Attachment attachment_to(const StackModel& model, std::size_t tier, const Eigen::Vector3d& place) {
    const std::vector<Station>& stations = model.stations.at(tier);
    const auto nearest =
        std::min_element(stations.begin(), stations.end(), [&](const Station& a, const Station& b) {
            return std::abs(a.height - place.z()) < std::abs(b.height - place.z());
        });
    const Eigen::Vector3d from_station = place - nearest->height * Eigen::Vector3d::UnitZ();
    return {.node = nearest->at.node,
            .arm = nearest->at.arm + model.frames[tier].axes * from_station};
}

Attachment below_tier(const Builder& builder, std::size_t index) {
    const Tier& tier = builder.stack.tiers[index];
    const Eigen::Vector3d& foot = builder.model.frames[index].foot;
    if (!tier.placement.host) {
        return {.node = builder.table.node, .arm = builder.table.arm + foot};
    }
    const TierFrame& host = builder.model.frames[*tier.placement.host];
    return attachment_to(builder.model, *tier.placement.host,
                         host.axes.transpose() * (foot - host.foot));
}

void add_table(Builder& builder) {
    if (builder.machine.table.rigid) return;
    const ResolvedJoint springs = table_springs(builder.machine, builder.model.notes);
    const int member = add_member(builder.model, "table", MemberKind::table);
    const int node = add_node(builder.model, Eigen::Vector3d::Zero());
    builder.table = {.node = node, .arm = Eigen::Vector3d::Zero()};
    builder.model.structure.joints.push_back(
        joint_element(springs, member, Attachment{}, builder.table, Eigen::Matrix3d::Identity()));
    const MovingMass moving = table_mass(builder.machine);
    if (!(moving.mass > 0)) return;
    builder.model.structure.lumps.push_back({.member = member,
                                             .at = builder.table,
                                             .mass = moving.mass,
                                             .inertia = moving.inertia.asDiagonal(),
                                             .spread = moving.spread});
}

/// A spring element under a tier, from `below` to a node of its own, which it returns.
Attachment add_springs(Builder& builder, std::size_t index, int member, const ResolvedJoint& joint,
                       const Attachment& below) {
    const TierFrame& frame = builder.model.frames[index];
    const Attachment above{.node = add_node(builder.model, frame.foot),
                           .arm = Eigen::Vector3d::Zero()};
    builder.model.structure.joints.push_back(
        joint_element(joint, member, below, above, frame.axes));
    return above;
}

/// Give of the bodies beside the joint, in series below it.
Attachment add_seat(Builder& builder, std::size_t index, const Attachment& below) {
    const Tier& tier = builder.stack.tiers[index];
    const std::optional<ZoneStiffness> seat = seat_stiffness(builder.stack, index);
    if (!seat) return below;
    const int member = add_member(builder.model, tier.name + " seat", MemberKind::seat);
    ResolvedJoint springs;
    springs.translation = seat->translation;
    springs.rotation = seat->rotation;
    springs.loss_factor = builder.stack.tiers[*tier.placement.host].material.loss_factor;
    springs.stiffness_spread = {.group = "seat stiffness", .factor = kSeatSpread};
    note_seat(tier, springs, builder.model.notes);
    return add_springs(builder, index, member, springs, below);
}

/// Joint under a tier; returns what the tier itself starts from.
Attachment add_joint(Builder& builder, std::size_t index) {
    const Tier& tier = builder.stack.tiers[index];
    const Attachment below = add_seat(builder, index, below_tier(builder, index));
    const ResolvedJoint joint = resolve_stack_joint(tier.joint, lower_face(builder.stack, index),
                                                    upper_face(builder.stack, index));
    builder.model.joints.push_back(joint);
    note_joint(tier, joint, builder.model.notes);
    if (joint.basis == JointBasis::solid) return below;
    const int member = add_member(builder.model, tier.name + " joint", MemberKind::tier_joint);
    return add_springs(builder, index, member, joint, below);
}

/// Joints of one kind are drawn together: by the widest of their spreads.
void widen_to_groups(StructureModel& structure) {
    for (JointElement& joint : structure.joints) {
        for (const JointElement& other : structure.joints) {
            if (other.stiffness_spread.group != joint.stiffness_spread.group) continue;
            joint.stiffness_spread.factor =
                std::max(joint.stiffness_spread.factor, other.stiffness_spread.factor);
        }
    }
}

BeamRun tier_run(const Tier& tier, double from, double to) {
    BeamRun run;
    run.material = tier.material;
    const double poisson = tier.material.poissons_ratio;
    const SectionShape lower = shape_at(tier, from), upper = shape_at(tier, to);
    run.section = section_of(lower, poisson);
    if (tier.top) {
        run.taper = [lower, upper, poisson](double fraction) {
            return section_of(shape_between(lower, upper, fraction), poisson);
        };
    }
    run.modulus_spread = {.group = "modulus: " + tier.material.name,
                          .factor = tier.material.modulus_spread};
    run.loss_spread = {.group = "loss factor: " + tier.material.name,
                       .factor = tier.material.loss_spread};
    return run;
}

void add_column(Builder& builder, std::size_t index, int member, const Attachment& foot) {
    const Tier& tier = builder.stack.tiers[index];
    const TierFrame& frame = builder.model.frames[index];
    std::vector<Station>& stations = builder.model.stations[index];
    stations.push_back({.height = 0, .at = foot});
    for (std::size_t upper = 1; upper < builder.heights[index].size(); ++upper) {
        const double height = builder.heights[index][upper];
        BeamRun run = tier_run(tier, stations.back().height, height);
        run.member = member;
        run.section_y = frame.axes.col(0);
        run.start = stations.back().at;
        run.end = {.node = add_node(builder.model, frame.foot + height * frame.axes.col(2)),
                   .arm = Eigen::Vector3d::Zero()};
        stations.push_back({.height = height, .at = run.end});
        builder.model.structure.beams.push_back(std::move(run));
    }
}

void add_rigid_body(Builder& builder, std::size_t index, int member, const Attachment& foot) {
    const RigidBody& body = *builder.stack.tiers[index].lump;
    const Eigen::Matrix3d& axes = builder.model.frames[index].axes;
    builder.model.stations[index] = {{.height = 0, .at = foot}};
    require_not_negative(body.mass, quoted(builder.stack.tiers[index]), "mass");
    if (foot.node == kGround || !(body.mass > 0)) return;
    builder.model.structure.lumps.push_back(
        {.member = member,
         .at = {.node = foot.node, .arm = foot.arm + axes * body.centre},
         .mass = body.mass,
         .inertia = axes * body.inertia * axes.transpose()});
}

void add_side_mass(Builder& builder, std::size_t index, int member, const SideMass& side) {
    require_not_negative(side.mass, quoted(builder.stack.tiers[index]) + " side", "mass");
    const Attachment centre = attachment_to(builder.model, index, side.at);
    if (centre.node == kGround || !(side.mass > 0)) return;
    const Eigen::Vector3d square = side.size.cwiseAbs2();
    const Eigen::Matrix3d box =
        (side.mass / 12 *
         Eigen::Vector3d(square.y() + square.z(), square.x() + square.z(), square.x() + square.y()))
            .asDiagonal();
    const Eigen::Matrix3d& axes = builder.model.frames[index].axes;
    builder.model.structure.lumps.push_back({.member = member,
                                             .at = centre,
                                             .mass = side.mass,
                                             .inertia = axes * box * axes.transpose()});
}

void add_tier(Builder& builder, std::size_t index) {
    const Tier& tier = builder.stack.tiers[index];
    const Attachment foot = add_joint(builder, index);
    const int member = add_member(builder.model, tier.name, MemberKind::tier);
    if (tier.lump) {
        add_rigid_body(builder, index, member, foot);
    } else {
        add_column(builder, index, member, foot);
    }
    for (const SideMass& side : tier.side) add_side_mass(builder, index, member, side);
    builder.model.foot_node.push_back(foot.node);
    builder.model.top_node.push_back(builder.model.stations[index].back().at.node);
    note_tier(builder.stack, index, builder.model.notes);
}

void add_support(Builder& builder, const Support& support) {
    const ResolvedJoint springs = support_springs(support, builder.model.notes);
    const Attachment above = attachment_to(builder.model, support.tier, support.at);
    const TierFrame& frame = builder.model.frames[support.tier];
    const Eigen::Vector3d position = frame.foot + frame.axes * support.at;
    Attachment below{.node = kGround, .arm = position};
    if (support.against) {
        const TierFrame& other = builder.model.frames.at(*support.against);
        below = attachment_to(builder.model, *support.against,
                              other.axes.transpose() * (position - other.foot));
    }
    const int member = add_member(builder.model, support.name, MemberKind::support);
    builder.model.structure.joints.push_back(
        joint_element(springs, member, below, above, Eigen::Matrix3d::Identity()));
}

/// Runs one step; a complaint from below gets the name of what was being built.
template <class Step>
void named(const std::string& what, const Step& step) {
    try {
        step();
    } catch (const std::domain_error& error) {
        if (std::string_view(error.what()).starts_with(what)) throw;
        throw std::domain_error(what + ": " + error.what());
    }
}

}  // namespace

StackModel stack_model(const Machine& machine, const Stack& stack,
                       const std::vector<CutHeights>& cuts) {
    Builder builder{.machine = machine, .stack = stack, .heights = {}, .model = {}, .table = {}};
    builder.model.frames = tier_frames(stack);
    builder.heights = wanted_heights(stack, builder.model.frames, cuts);
    builder.model.stations.resize(stack.tiers.size());
    for (const Tier& tier : stack.tiers) builder.model.heights.push_back(tier.height);
    named("table", [&] { add_table(builder); });
    for (std::size_t index = 0; index < stack.tiers.size(); ++index) {
        named(quoted(stack.tiers[index]), [&] { add_tier(builder, index); });
    }
    for (const Support& support : stack.supports) {
        named("support \"" + support.name + '"', [&] { add_support(builder, support); });
    }
    choose_elements(builder.model.structure);
    widen_to_groups(builder.model.structure);
    return std::move(builder.model);
}

StackModel stack_model(const Machine& machine, const Stack& stack) {
    return stack_model(machine, stack, {});
}

MaterialPoint point_on_tier(const StackModel& model, std::size_t tier,
                            const Eigen::Vector3d& place) {
    const double tolerance = 1e-9;
    if (tier >= model.heights.size()) throw std::domain_error("point on tier: no such tier");
    require_between(place.z(), -tolerance, model.heights[tier] + tolerance, "point on tier",
                    "height above the tier's foot, m,");
    return attachment_to(model, tier, place);
}

}  // namespace standfast
