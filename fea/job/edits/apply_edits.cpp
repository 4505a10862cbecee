#include "fea/job/edits/apply_edits.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>

#include "fea/job/edits/beside_tier.hpp"
#include "fea/job/edits/shelf_edit.hpp"
#include "fea/job/edits/tool_edits.hpp"
#include "fea/quantities/require.hpp"
#include "fea/stack/frames.hpp"
#include "fea/stack/stack_model.hpp"

namespace standfast {
namespace {

constexpr double kDegree = std::numbers::pi / 180;
// Sines of angles: a flank within 1 deg of its wall lies along it; a feed within 10 deg of the
// tool's axis plunges.
const double kAlongWall = std::sin(1 * kDegree), kPlunge = std::sin(10 * kDegree);

template <typename Named>
std::size_t place_of_name(const std::vector<Named>& list, const std::string& name,
                          const std::string& what) {
    const auto called = [&](const Named& one) { return one.name == name; };
    const auto found = std::find_if(list.begin(), list.end(), called);
    if (found == list.end()) throw std::domain_error("no " + what + " is called \"" + name + "\"");
    if (std::any_of(found + 1, list.end(), called)) {
        throw std::domain_error("more than one " + what + " is called \"" + name + "\"");
    }
    return static_cast<std::size_t>(found - list.begin());
}

Tier& tier_of(Job& job, const std::string& name) { return job.stack.tiers[tier_named(job, name)]; }
ToolChain& tool_of(Job& job, const std::string& name) { return job.tools[tool_named(job, name)]; }
Pass& pass_of(Job& job, const std::string& name) { return job.passes[pass_named(job, name)]; }

/// Changes a tier and moves what is beside it.
template <typename Change>
void change_tier(Job& job, const std::string& name, const Change& change) {
    const std::size_t index = tier_named(job, name);
    const Tier before = job.stack.tiers[index];
    change(job.stack.tiers[index]);
    move_beside(job, index, 1, before);
}

void apply(Job& job, const TierHeight& edit) {
    require_positive(edit.height, "tier \"" + edit.tier + "\"", "height, m,");
    const Tier& tier = tier_of(job, edit.tier);
    if (tier.height == edit.height) return;
    if (tier.lump) {
        throw std::domain_error("\"" + edit.tier +
                                "\" is a rigid body: its height belongs to its mass and inertia");
    }
    change_tier(job, edit.tier, [&](Tier& changed) { changed.height = edit.height; });
}

void apply(Job& job, const TierSection& edit) {
    change_tier(job, edit.tier, [&](Tier& changed) {
        changed.shape = edit.shape;
        changed.top = edit.top;
    });
}

void apply(Job& job, const TierMaterial& edit) { tier_of(job, edit.tier).material = edit.material; }

void apply(Job& job, const TierHold& edit) { tier_of(job, edit.tier).joint = edit.joint; }

void apply(Job& job, const SolidJoint& edit) {
    Joint one_piece;
    one_piece.solid = true;
    tier_of(job, edit.tier).joint = one_piece;
}

void apply(Job& job, const JointLoss& edit) {
    require_not_negative(edit.loss, "joint under \"" + edit.tier + "\"", "loss factor");
    tier_of(job, edit.tier).joint.given.loss = edit.loss;
}

void apply(Job& job, const DovetailSize& edit) {
    auto& dovetail = tier_of(job, edit.tier).joint.dovetail;
    if (!dovetail) throw std::domain_error("\"" + edit.tier + "\" stands in no dovetail");
    dovetail->width = edit.width.value_or(dovetail->width);
    dovetail->length = edit.length.value_or(dovetail->length);
}

void apply(Job& job, const ShelfRisers& edit) {
    put_risers(job, tier_named(job, edit.tier), edit.risers);
}

void apply(Job& job, const Stickout& edit) {
    require_positive(edit.stickout, "tool \"" + edit.tool + "\"", "stickout, m,");
    ToolChain& tool = tool_of(job, edit.tool);
    tool = with_stickout(tool, edit.stickout);
}

void apply(Job& job, const ToolHolder& edit) {
    ToolChain& tool = tool_of(job, edit.tool);
    tool = with_holder(tool, edit.holder);
}

void apply(Job& job, const GripLoss& edit) {
    require_not_negative(edit.loss, "grip of \"" + edit.tool + "\"", "loss factor");
    tool_of(job, edit.tool).grip.given.loss = edit.loss;
}

void apply(Job& job, const ToothCount& edit) {
    Cutter& cutter = tool_of(job, edit.tool).cutter;
    require_positive(edit.teeth, "tool \"" + edit.tool + "\"", "number of teeth");
    if (!cutter.pitch.empty()) {
        throw std::domain_error("tool \"" + edit.tool +
                                "\" has the pitch of each tooth given, which goes with their "
                                "number");
    }
    cutter.teeth = edit.teeth;
}

void apply(Job& job, const ToothPitch& edit) {
    Cutter& cutter = tool_of(job, edit.tool).cutter;
    if (edit.pitch.size() != static_cast<std::size_t>(cutter.teeth)) {
        throw std::domain_error("tool \"" + edit.tool + "\" has another number of teeth than " +
                                std::to_string(edit.pitch.size()));
    }
    cutter.pitch = edit.pitch;
}

void apply(Job& job, const PassSpeed& edit) { pass_of(job, edit.pass).speed = edit.speed; }
void apply(Job& job, const AxialDepth& edit) { pass_of(job, edit.pass).axial = edit.axial; }
void apply(Job& job, const RadialDepth& edit) { pass_of(job, edit.pass).radial = edit.radial; }
void apply(Job& job, const FeedPerTooth& edit) {
    pass_of(job, edit.pass).feed_per_tooth = edit.feed;
}

bool is_ball(const Cutter& cutter) {
    return cutter.corner_radius > cutter.diameter / 2 * (1 - 1e-6);
}

/// Sine of the angle between the tool's axis at that tilt and the wall that the pass finishes.
double out_of_wall(const Job& job, const Pass& pass, double tilt) {
    if (!pass.wall) return 0;
    const Eigen::Vector3d wall =
        job.stack.tiers.empty()
            ? *pass.wall
            : Eigen::Vector3d(tier_frames(job.stack).at(pass.tier).axes * *pass.wall);
    return std::abs(wall.normalized().dot(tool_axes(tilt, pass.turn, 0).col(2)));
}

/// The feed heading at another tilt that keeps the feed's direction in the stack as far as it can.
double heading_kept(const Pass& pass, double tilt) {
    const Eigen::Vector3d feed = tool_axes(pass.tilt, pass.turn, *pass.feed_heading).col(0);
    const Eigen::Vector3d in_tool = tool_axes(tilt, pass.turn, 0).transpose() * feed;
    if (in_tool.head<2>().norm() < kPlunge) {
        throw std::domain_error("pass \"" + pass.name + "\" would feed along its tool");
    }
    return std::atan2(in_tool.y(), in_tool.x());
}

void apply(Job& job, const PassTilt& edit) {
    Pass& pass = pass_of(job, edit.pass);
    require_finite(edit.tilt, "pass \"" + pass.name + "\"", "tilt");
    if (edit.tilt == pass.tilt) return;
    const double out = out_of_wall(job, pass, edit.tilt);
    if (!is_ball(job.tools.at(pass.tool).cutter) &&
        out > std::max(kAlongWall, out_of_wall(job, pass, pass.tilt) + 1e-9)) {
        throw std::domain_error(
            "pass \"" + pass.name +
            "\" would lean its cutter's flank out of the wall that it finishes");
    }
    if (pass.feed_heading) pass.feed_heading = heading_kept(pass, edit.tilt);
    pass.tilt = edit.tilt;
}

}  // namespace

std::size_t tier_named(const Job& job, const std::string& name) {
    return place_of_name(job.stack.tiers, name, "tier");
}
std::size_t tool_named(const Job& job, const std::string& name) {
    return place_of_name(job.tools, name, "tool");
}
std::size_t pass_named(const Job& job, const std::string& name) {
    return place_of_name(job.passes, name, "pass");
}

Job edited(Job job, const Edit& edit) {
    std::visit([&](const auto& one) { apply(job, one); }, edit);
    return job;
}

Job edited(Job job, const std::vector<Edit>& edits) {
    for (const Edit& edit : edits) job = edited(std::move(job), edit);
    return job;
}

}  // namespace standfast
