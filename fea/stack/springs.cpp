#include "fea/stack/springs.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <string>

#include "fea/quantities/require.hpp"

namespace standfast {
namespace {

/// Of a mass that the job gives; common practice, no source.
constexpr double kGivenMassSpread = 1.1;

void require_springs(const ResolvedJoint& springs, const char* where) {
    require_positive(springs.translation.head<2>().minCoeff(), where, "lateral stiffness");
    require_positive(springs.translation.z(), where, "vertical (axial) stiffness");
    require_positive(springs.rotation.head<2>().minCoeff(), where, "tilting stiffness");
    require_positive(springs.rotation.z(), where, "twisting stiffness");
}

/// Median |ln(fx/fy)| of 0.09, normally distributed, as a 10-90 % factor: 0.09 / 0.6745 is the
/// deviation. Of nine tools of which both directions were measured the frequencies are split by
/// 0.3 to 45 %, median 9 % (from memory and public scripts; rows of validation/measured).
constexpr double kSplit = 1.186;

void split_axes(ResolvedJoint& springs, const JointNumbers& given, const char* name) {
    if (given.told_apart) return;
    springs.split_spread = {.group = std::string(name) + ": x against y", .factor = kSplit};
}

/// Twisting that neither the job nor the kind says: as stiff as tilting.
void fill_twisting(ResolvedJoint& springs) {
    if (!(springs.rotation.z() > 0)) springs.rotation.z() = springs.rotation.x();
}

void note_springs(const char* path, const JointNumbers& given, const ResolvedJoint& springs,
                  const Source& source, std::vector<Assumption>& notes) {
    if (given.lateral && given.vertical && given.tilting) return;
    notes.push_back({.path = path,
                     .value = springs.translation.x(),
                     .quantity = Quantity::stiffness,
                     .text = "lateral stiffness; what the job does not give comes from the "
                             "catalogue's row of this kind, with a wide spread",
                     .source = source.text});
}

std::string joint_text(const ResolvedJoint& joint) {
    if (joint.basis != JointBasis::contact_law) {
        return "lateral stiffness of a median joint of its kind in the catalogue, contact alone";
    }
    return std::string(
               "lateral stiffness of the zone really clamped: contact, in series with the local "
               "give of both bodies") +
           (joint.includes_seat ? "" : " in the zone; seats come on top") +
           (joint.bounded ? "; cut off at the upper bound of the catalogue" : "");
}

bool is_thin_wall(const Tier& tier) {
    if (tier.lump || !std::holds_alternative<BlockShape>(tier.shape)) return false;
    const double x = width_x(tier.shape), y = width_y(tier.shape);
    return std::min(x, y) < std::max(x, y) / 4 && tier.height > 2 * std::min(x, y);
}

bool on_side(const Placement& placement) {
    return placement.host && placement.at && std::abs(std::sin(placement.lean)) > 1e-6;
}

/// What a measurement at the machine said, on top of given figures or the catalogue.
void adjust(const SpringAdjustment& adjusted, const char* where, ResolvedJoint& springs) {
    require_positive(adjusted.stiffness, where, "stiffness adjustment");
    require_positive(adjusted.loss, where, "loss adjustment");
    springs.translation *= adjusted.stiffness;
    springs.rotation *= adjusted.stiffness;
    springs.loss_factor *= adjusted.loss;
    springs.stiffness_spread.factor =
        adjusted.stiffness_spread.value_or(springs.stiffness_spread.factor);
    springs.loss_spread.factor = adjusted.loss_spread.value_or(springs.loss_spread.factor);
}

}  // namespace

ResolvedJoint table_springs(const Machine& machine, std::vector<Assumption>& notes) {
    const MachineKind& kind = machine.kind;
    ResolvedJoint springs = resolve_springs(machine.table.given,
                                            {.lateral = kind.lateral,
                                             .vertical = kind.vertical,
                                             .tilting = kind.tilting,
                                             .twisting = kind.twisting,
                                             .loss_factor = kind.loss_factor,
                                             .spread = kind.spread,
                                             .loss_spread = kind.loss_spread,
                                             .named = !kind.name.empty()},
                                            "table");
    fill_twisting(springs);
    adjust(machine.table.adjusted, "table", springs);
    split_axes(springs, machine.table.given, "table");
    require_springs(springs, "table");
    note_springs("machine.table", machine.table.given, springs, kind.source, notes);
    return springs;
}

ResolvedJoint spindle_springs(const Machine& machine, std::vector<Assumption>& notes) {
    const SpindleKind& kind = machine.spindle_kind;
    ResolvedJoint springs = resolve_springs(machine.spindle.given,
                                            {.lateral = kind.lateral,
                                             .vertical = kind.axial,
                                             .tilting = kind.tilting,
                                             .twisting = kind.twisting,
                                             .loss_factor = kind.loss_factor,
                                             .spread = kind.spread,
                                             .loss_spread = kind.loss_spread,
                                             .named = !kind.taper.empty()},
                                            "spindle");
    fill_twisting(springs);
    adjust(machine.spindle.adjusted, "spindle", springs);
    split_axes(springs, machine.spindle.given, "spindle");
    require_springs(springs, "spindle");
    note_springs("machine.spindle", machine.spindle.given, springs, kind.source, notes);
    return springs;
}

MovingMass table_mass(const Machine& machine) {
    const Table& table = machine.table;
    MovingMass moving;
    moving.mass = table.mass.value_or(machine.kind.table_mass);
    require_not_negative(moving.mass, "table", "mass");
    // A thin disc.
    const double across = moving.mass * table.diameter * table.diameter / 16;
    moving.inertia = {across, across, 2 * across};
    moving.spread = {.group = "table mass",
                     .factor = table.mass ? kGivenMassSpread : machine.kind.mass_spread};
    return moving;
}

MovingMass spindle_mass(const Machine& machine) {
    const SpindleSide& spindle = machine.spindle;
    const SpindleKind& kind = machine.spindle_kind;
    MovingMass moving;
    moving.mass = spindle.mass.value_or(kind.mass);
    // Where only the mass is given, its size goes with that of the kind.
    const double scale = kind.mass > 0 ? moving.mass / kind.mass : 1;
    const double across = spindle.inertia.value_or(kind.inertia * std::pow(scale, 5.0 / 3));
    moving.centre = spindle.centre.value_or(kind.centre);
    require_not_negative(moving.mass, "spindle", "mass");
    require_not_negative(across, "spindle", "inertia");
    moving.inertia = {across, across, across / 2};
    moving.spread = {.group = "spindle mass",
                     .factor = spindle.mass ? kGivenMassSpread : kind.mass_spread};
    return moving;
}

ResolvedJoint support_springs(const Support& support, std::vector<Assumption>& notes) {
    const JointKind& kind = support.kind;
    if (!kind.name.empty() && kind.scaling != JointScaling::absolute) {
        throw std::domain_error("kind \"" + kind.name + "\" holds by its face, must be a support");
    }
    ResolvedJoint springs = resolve_springs(support.given,
                                            {.lateral = kind.lateral,
                                             .vertical = kind.vertical,
                                             .tilting = kind.tilting,
                                             .twisting = kind.twisting,
                                             .loss_factor = kind.loss_factor,
                                             .spread = kind.spread,
                                             .loss_spread = kind.loss_spread,
                                             .named = !kind.name.empty()},
                                            kind.name.empty() ? "given support" : kind.name);
    const std::string group = support.measured    ? support.name
                              : kind.name.empty() ? "given"
                                                  : kind.name;
    adjust(support.adjusted, "support", springs);
    springs.stiffness_spread.group = "joint stiffness: " + group;
    springs.loss_spread.group = "joint loss: " + group;
    require_positive(springs.translation.sum() + springs.rotation.sum(), "support",
                     "sum of its stiffnesses");
    if (springs.basis == JointBasis::catalogue) {
        notes.push_back({.path = "support \"" + support.name + '"',
                         .value = springs.translation.maxCoeff(),
                         .quantity = Quantity::stiffness,
                         .text = "stiffness of a median support of its kind in the catalogue",
                         .source = kind.source.text});
    }
    return springs;
}

JointElement joint_element(const ResolvedJoint& joint, int member, const Attachment& below,
                           const Attachment& above, const Eigen::Matrix3d& axes) {
    return {.member = member,
            .below = below,
            .above = above,
            .axes = axes,
            .translation = joint.translation,
            .rotation = joint.rotation,
            .loss_factor = joint.loss_factor,
            .stiffness_spread = joint.stiffness_spread,
            .loss_spread = joint.loss_spread,
            .split_spread = joint.split_spread};
}

void note_joint(const Tier& tier, const ResolvedJoint& joint, std::vector<Assumption>& notes) {
    if (joint.basis == JointBasis::solid || joint.basis == JointBasis::given) return;
    notes.push_back({.path = "tier \"" + tier.name + "\".joint",
                     .value = joint.translation.x(),
                     .quantity = Quantity::stiffness,
                     .text = joint_text(joint),
                     .source = tier.joint.kind.source.text});
    if (!joint.seat_unsaid) return;
    notes.push_back({.path = "tier \"" + tier.name + "\".joint.seat",
                     .value = std::nullopt,
                     .quantity = Quantity::number,
                     .text = "not said whether its seat bears: between flanks alone and seated, "
                             "with a spread that covers both; seat = true or false settles it",
                     .source = tier.joint.kind.source.text});
}

void note_seat(const Tier& tier, const ResolvedJoint& seat, std::vector<Assumption>& notes) {
    notes.push_back({.path = "tier \"" + tier.name + "\".seat",
                     .value = seat.rotation.x(),
                     .quantity = Quantity::angular_stiffness,
                     .text = "tilting stiffness of the bodies beside its joint, in series with it: "
                             "the joint's own figure is of the contact alone",
                     .source = "half-space and plate formulas, fitted to solid models"});
}

void note_tier(const Stack& stack, std::size_t tier, std::vector<Assumption>& notes) {
    const Tier& guest = stack.tiers[tier];
    if (on_side(guest.placement)) {
        notes.push_back({.path = "tier \"" + guest.name + "\".on",
                         .value = std::nullopt,
                         .quantity = Quantity::number,
                         .text = "local give of the wall it is mounted on is left out",
                         .source = {}});
    }
    if (is_thin_wall(guest)) {
        notes.push_back({.path = "tier \"" + guest.name + '"',
                         .value = std::nullopt,
                         .quantity = Quantity::number,
                         .text = "a thin wall counts as a strip in bending: plate action is left "
                                 "out",
                         .source = {}});
    }
}

}  // namespace standfast
