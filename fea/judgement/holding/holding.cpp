#include "fea/judgement/holding/holding.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>

#include "fea/judgement/answer/weight.hpp"
#include "fea/judgement/holding/joint_hold.hpp"
#include "fea/judgement/holding/tier_hold.hpp"
#include "fea/stack/frames.hpp"

namespace standfast {
namespace {

constexpr int kPhases = 90;
// Helix that the axial share of force data belongs to, and the least share of the tangential force
// that is counted as axial there. Common practice: 0.2 to 0.4 of it at 30 to 45 deg.
constexpr double kDataHelix = 35 * std::numbers::pi / 180;
constexpr double kLeastAxial = 0.3;
// A helix spreads the cut over time and lowers its peak; a chipped or worn edge and the entry do
// not have that relief, so that it is counted up to this helix only.
constexpr double kRelievingHelix = 20 * std::numbers::pi / 180;

struct Chain {
    Stack stack;  // in the pass's state
    std::vector<TierFrame> frames;
    std::vector<std::size_t> tiers;  // the cut one first, down to the table
};

Chain chain_of(const Job& job, const Pass& pass) {
    Chain chain;
    chain.stack = pass.state ? in_state(job.stack, pass.tier, *pass.state) : job.stack;
    chain.frames = tier_frames(chain.stack);
    for (std::optional<std::size_t> tier = pass.tier; tier;
         tier = chain.stack.tiers[*tier].placement.host) {
        chain.tiers.push_back(*tier);
    }
    return chain;
}

/// The rigid cut as holding counts it: axial pull by the helix, little relief from it.
RigidCut for_holding(const RigidCut& cut) {
    RigidCut counted = cut;
    const double pull = std::tan(std::abs(cut.cutter.helix)) / std::tan(kDataHelix);
    CuttingLaw& law = counted.law;
    law.axial = std::max(law.axial, kLeastAxial * law.tangential) * pull;
    law.axial_edge = std::max(law.axial_edge, 0.0) * pull;
    counted.cutter.helix = std::clamp(cut.cutter.helix, -kRelievingHelix, kRelievingHelix);
    return counted;
}

using ToWrench = Wrench (*)(const Eigen::Vector3d&, const Eigen::Vector3d&);

Wrench at_joint(const TierFrame& frame, const Eigen::Vector3d& force, const Eigen::Vector3d& at,
                ToWrench to_wrench = wrench_of) {
    return to_wrench(frame.axes.transpose() * force, frame.axes.transpose() * (at - frame.foot));
}

/// Weight that presses the joint together is not counted, so that a heavier, taller part never
/// seems to hold better.
Wrench own_weight(const Chain& chain, std::size_t index, const Eigen::Vector3d& gravity) {
    const PointMass above = carried_mass(chain.stack, chain.frames, index);
    Wrench own = at_joint(chain.frames[index], above.mass * kGravity * gravity, above.centre);
    own.force.z() = std::max(own.force.z(), 0.0);
    return own;
}

std::string missing_force(const Joint& joint) {
    return joint.dovetail || joint.jaws ? "no clamp force given" : "no preload given";
}

/// The multiple of the loads that a hold bears, the smallest over all of them.
LoadFactor least_factor(const Chain& chain, std::size_t index, const Wrench& own,
                        const std::vector<CutLoad>& loads, HoldFigures figures) {
    const Tier& tier = chain.stack.tiers[index];
    const std::optional<Hold> hold = hold_under(chain.stack, tier, figures);
    const std::optional<FootSection> foot = foot_section(tier);
    const ToWrench to_wrench = figures == HoldFigures::careful ? wrench_of : instant_wrench;
    LoadFactor least{kHoldingCap, HoldingMode::slip};
    for (const CutLoad& load : loads) {
        const Wrench cut = at_joint(chain.frames[index], load.force, load.at, to_wrench);
        const LoadFactor found =
            load_factor(hold ? &*hold : nullptr, foot ? &*foot : nullptr, own, cut, least.factor);
        if (found.factor < least.factor) least = found;
    }
    return least;
}

JointHolding judge_joint(const Chain& chain, std::size_t index, const Eigen::Vector3d& gravity,
                         const std::vector<CutLoad>& loads, double wear_factor) {
    const Tier& tier = chain.stack.tiers[index];
    JointHolding result;
    result.joint = tier.name + " joint";
    if (!hold_under(chain.stack, tier) && !tier.joint.solid) {
        result.why_not = missing_force(tier.joint);
        return result;
    }
    const Wrench own = own_weight(chain, index, gravity);
    const LoadFactor careful = least_factor(chain, index, own, loads, HoldFigures::careful);
    const LoadFactor usual = least_factor(chain, index, own, loads, HoldFigures::usual);
    result.judged = true;
    result.factor = careful.factor;
    result.mode = careful.mode;
    result.less_careful = std::clamp(wear_factor * usual.factor, careful.factor,
                                     std::max(careful.factor, kHoldingCap));
    result.friction = counted_friction(tier.joint, HoldFigures::careful);
    result.usual_friction = counted_friction(tier.joint, HoldFigures::usual);
    result.seat_counted = counts_seat(tier.joint, HoldFigures::careful);
    return result;
}

HoldingResult weakest_of(std::vector<JointHolding> joints) {
    HoldingResult result;
    result.judged = !joints.empty();
    result.factor = kHoldingCap;
    result.less_careful = kHoldingCap;
    for (const JointHolding& joint : joints) {
        if (!joint.judged) {
            result.judged = false;
            if (result.why_not.empty()) result.why_not = joint.joint + ": " + joint.why_not;
            continue;
        }
        result.less_careful = std::min(result.less_careful, joint.less_careful);
        if (joint.factor < result.factor || result.joint.empty()) {
            result.factor = joint.factor;
            result.joint = joint.joint;
            result.mode = joint.mode;
        }
    }
    result.joints = std::move(joints);
    return result;
}

HoldingCare care_of(const Job& job) {
    return {.wear_factor = job.limits.wear_factor,
            .supports_left_out = static_cast<int>(job.stack.supports.size())};
}

HoldingResult without_joints(const Stack& stack) {
    HoldingResult result;
    result.judged = stack.rigid;
    if (stack.rigid) {
        result.factor = kHoldingCap;
        result.less_careful = kHoldingCap;
        result.joint = "rigid stack";
    } else {
        result.why_not = "a stack known by its modes does not show its joints";
    }
    return result;
}

}  // namespace

std::vector<CutLoad> cut_loads(const RigidCut& cut, const Pass& pass, const TierFrame& frame,
                               const std::vector<double>& headings, double wear_factor) {
    const RigidCut counted = for_holding(cut);
    const EdgeSum<Eigen::Vector3d> sum = rigid_force_sum(counted);
    std::vector<Eigen::Vector3d> forces;
    const double period =
        2 * std::numbers::pi / (cut.cutter.evenly_spaced() ? cut.cutter.teeth() : 1);
    for (int i = 0; i < kPhases; ++i) forces.push_back(value_at(sum, period * i / kPhases));
    std::vector<CutLoad> loads;
    for (const double heading : headings) {
        const Eigen::Matrix3d axes = tool_axes(pass.tilt, pass.turn, heading);
        for (const Eigen::Vector3d& place : pass.path) {
            const Eigen::Vector3d at =
                frame.foot + frame.axes * place + axes.col(2) * (cut.depth / 2);
            for (const Eigen::Vector3d& force : forces) {
                loads.push_back({-wear_factor * (axes * force), at});
            }
        }
    }
    return loads;
}

HoldingResult judge_holding(const Job& job, const Pass& pass, const std::vector<CutLoad>& loads) {
    if (!job.stack.modes.empty() || job.stack.tiers.empty()) return without_joints(job.stack);
    const Chain chain = chain_of(job, pass);
    const Eigen::Vector3d gravity = gravity_direction(job.machine, pass);
    std::vector<JointHolding> joints;
    for (const std::size_t tier : chain.tiers) {
        joints.push_back(judge_joint(chain, tier, gravity, loads, job.limits.wear_factor));
    }
    const auto in_all = [&](HoldingResult result) {
        result.care = care_of(job);
        return result;
    };
    if (frees_part(chain.stack.tiers[pass.tier], pass)) {
        JointHolding& cut = joints.front();
        cut.judged = false;
        cut.mode = HoldingMode::frees_part;
        cut.why_not = "the cut frees the part or thins its foot: support it";
        HoldingResult result = in_all(weakest_of(std::move(joints)));
        result.joint = result.joints.front().joint;
        result.mode = HoldingMode::frees_part;
        return result;
    }
    return in_all(weakest_of(std::move(joints)));
}

}  // namespace standfast
