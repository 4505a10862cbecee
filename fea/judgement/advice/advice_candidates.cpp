#include "fea/judgement/advice/advice_candidates.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <string>
#include <utility>

#include "fea/job/edits/beside_tier.hpp"
#include "fea/job/edits/section_scale.hpp"
#include "fea/judgement/speed/best_speed.hpp"

namespace standfast {
namespace {

// Steps that a shop can try: large enough to matter, small enough to be had.
constexpr double kShorter = 0.85;
constexpr double kLowerRiser = 0.75;
constexpr double kHardlyLower = 0.97;
constexpr double kStifferRiser = 1.25;
constexpr double kBiggerDovetail = 1.25;
constexpr double kLessRadial = 0.7;
constexpr double kLessDepth = 0.7;
constexpr double kInside = 0.999;

/// The offered speed at which fewest tries chatter, and of equal ones that with the deepest edge.
std::optional<SpindleSpeed> quietest_speed(const AdviceCase& given) {
    const auto chatters = [&](const SpeedLimit& at) {
        return given.odds ? unstable_at(*given.odds, at.speed).value_or(1) : 1;
    };
    const auto edge = [&](const SpeedLimit& at) {
        return at.limit.value_or(given.problem->searched_to);
    };
    const SpeedLimit* quietest = nullptr;
    for (const SpeedLimit& at : given.limits.speeds) {
        if (!given.offered.contains(at.speed)) continue;
        if (quietest == nullptr ||
            std::pair(chatters(at), -edge(at)) < std::pair(chatters(*quietest), -edge(*quietest))) {
            quietest = &at;
        }
    }
    return quietest != nullptr ? std::optional(quietest->speed) : std::nullopt;
}

void add_other_speed(std::vector<Candidate>& list, const AdviceCase& given) {
    const Pass& pass = given.problem->pass();
    if (!pass.speed) return;
    std::optional<SpindleSpeed> speed;
    if (given.best && given.best->depth >= given.depth * kInside) {
        speed = given.best->speed;
    } else {
        speed = quietest_speed(given);
    }
    if (!speed || *speed == given.speed) return;
    list.push_back({AdviceKind::other_speed, {PassSpeed{pass.name, *speed}}});
}

void add_less_depth(std::vector<Candidate>& list, const AdviceCase& given) {
    const Pass& pass = given.problem->pass();
    if (!pass.axial || nothing_to_mend(given.answer, given.problem->job->limits)) return;
    const auto held =
        best_depth_at(*given.problem, given.answer.headings, given.answer.at.limit, given.tries);
    const double depth = held ? held->depth : kLessDepth * given.depth;
    if (depth > kInside * given.depth) return;
    list.push_back({AdviceKind::less_depth, {AxialDepth{pass.name, depth}}});
}

void add_less_radial(std::vector<Candidate>& list, const AdviceCase& given) {
    const Pass& pass = given.problem->pass();
    if (pass.milling == Milling::slot) return;
    list.push_back({AdviceKind::less_radial, {RadialDepth{pass.name, kLessRadial * pass.radial}}});
}

void add_teeth(std::vector<Candidate>& list, const AdviceCase& given) {
    const ToolChain& tool = given.problem->tool_chain();
    if (!tool.cutter.pitch.empty()) return;
    const auto add = [&](AdviceKind kind, int teeth) {
        list.push_back({kind, {ToothCount{tool.name, teeth}}});
    };
    if (tool.cutter.teeth > 1) add(AdviceKind::fewer_teeth, tool.cutter.teeth - 1);
    add(AdviceKind::more_teeth, tool.cutter.teeth + 1);
}

/// Up to what can be set on the bench, so that it still clears.
double settable(double metres) {
    constexpr double kStep = 0.1e-3;
    return kStep * std::ceil(metres / kStep - 1e-6);
}

void add_stickout(std::vector<Candidate>& list, const AdviceCase& given, AdviceKind kind,
                  double stickout) {
    list.push_back(
        {kind, {Stickout{given.problem->tool_chain().name, stickout}}, !given.answer.reach.judged});
}

void add_shorter_stickout(std::vector<Candidate>& list, const AdviceCase& given) {
    const ToolChain& tool = given.problem->tool_chain();
    const Cutter& cutter = tool.cutter;
    const ReachResult& reach = given.answer.reach;
    if (tool.rigid || !tool.modes.empty() || (reach.judged && !reach.least_stickout)) return;
    // The flutes, the neck and the cut itself must stay outside the holder.
    const double least = std::max({cutter.flute_length + cutter.neck_length, 1.1 * given.depth,
                                   cutter.diameter, settable(reach.least_stickout.value_or(0))});
    const double stickout = std::max(kShorter * cutter.stickout, least);
    if (stickout > 0.97 * cutter.stickout) return;
    add_stickout(list, given, AdviceKind::shorter_stickout, stickout);
}

/// Only to get to the cut, and only as far as the cutter is known to be long enough.
void add_longer_stickout(std::vector<Candidate>& list, const AdviceCase& given) {
    const ToolChain& tool = given.problem->tool_chain();
    const ReachResult& reach = given.answer.reach;
    if (!reach.judged || reach.clear || !reach.least_stickout || !reach.most_stickout) return;
    const double stickout = std::min(settable(*reach.least_stickout), *reach.most_stickout);
    if (stickout > tool.cutter.stickout) {
        add_stickout(list, given, AdviceKind::longer_stickout, stickout);
    }
}

/// Tiers under the cut one, down to the table.
std::vector<std::size_t> tiers_below(const Stack& stack, std::size_t cut) {
    std::vector<std::size_t> below;
    for (auto host = stack.tiers[cut].placement.host; host;
         host = stack.tiers[*host].placement.host) {
        below.push_back(*host);
    }
    return below;
}

/// @param lowest  m, at which what is beside the riser still finds room on it
void add_riser_height(std::vector<Candidate>& list, const Tier& riser, double lowest,
                      const ReachResult& reach) {
    const auto add = [&](AdviceKind kind, double height) {
        list.push_back({kind, {TierHeight{riser.name, height}}, !reach.judged});
    };
    const bool known = reach.judged && reach.least_riser_height;
    const double cleared = known ? settable(*reach.least_riser_height) : 0;
    const double lower = std::max({kLowerRiser * riser.height, cleared, settable(lowest)});
    const bool helpless = reach.judged && !reach.least_riser_height;
    if (!helpless && lower < kHardlyLower * riser.height) add(AdviceKind::lower_riser, lower);
    if (known && !reach.clear && cleared > riser.height) add(AdviceKind::taller_riser, cleared);
}

void add_riser(std::vector<Candidate>& list, const Job& job, std::size_t cut,
               const ReachResult& reach) {
    const Stack& stack = job.stack;
    std::vector<std::size_t> below = tiers_below(stack, cut);
    std::erase_if(below, [&](std::size_t i) { return stack.tiers[i].lump.has_value(); });
    if (below.empty()) return;
    const std::size_t tallest =
        *std::max_element(below.begin(), below.end(), [&](std::size_t a, std::size_t b) {
            return stack.tiers[a].height < stack.tiers[b].height;
        });
    const Tier& riser = stack.tiers[tallest];
    add_riser_height(list, riser, least_height(job, tallest), reach);
    if (std::optional<TierSection> wider = scaled_section(riser, kStifferRiser)) {
        list.push_back({AdviceKind::stiffer_riser, {std::move(*wider)}});
    }
}

void add_dovetail(std::vector<Candidate>& list, const Tier& cut) {
    if (!cut.joint.dovetail) return;
    const Dovetail& tail = *cut.joint.dovetail;
    const double width = std::min(kBiggerDovetail * tail.width, 0.95 * width_y(cut.shape));
    const double length = std::min(kBiggerDovetail * tail.length, width_x(cut.shape));
    DovetailSize bigger{.tier = cut.name, .width = std::nullopt, .length = std::nullopt};
    if (width > 1.02 * tail.width) bigger.width = width;
    if (tail.length > 0 && length > 1.02 * tail.length) bigger.length = length;
    if (bigger.width || bigger.length) list.push_back({AdviceKind::bigger_dovetail, {bigger}});
}

/// The softest joint below the cut tier's own, as one piece.
void add_solid_joint(std::vector<Candidate>& list, const AdviceCase& given) {
    const Stack& stack = given.problem->job->stack;
    for (const GiveShare& share : given.answer.statics.give) {
        for (const std::size_t i : tiers_below(stack, given.problem->pass().tier)) {
            const Tier& tier = stack.tiers[i];
            if (share.member != tier.name + " joint" || tier.joint.solid) continue;
            list.push_back({AdviceKind::solid_joint, {SolidJoint{tier.name}}});
            return;
        }
    }
}

}  // namespace

std::vector<Candidate> advice_candidates(const AdviceCase& given) {
    std::vector<Candidate> list;
    add_other_speed(list, given);
    add_less_depth(list, given);
    add_less_radial(list, given);
    add_teeth(list, given);
    add_shorter_stickout(list, given);
    add_longer_stickout(list, given);
    const Job& job = *given.problem->job;
    if (job.stack.rigid || !job.stack.modes.empty() || job.stack.tiers.empty()) return list;
    add_riser(list, job, given.problem->pass().tier, given.answer.reach);
    add_dovetail(list, job.stack.tiers[given.problem->pass().tier]);
    add_solid_joint(list, given);
    return list;
}

}  // namespace standfast
