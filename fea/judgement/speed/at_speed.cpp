#include "fea/judgement/speed/at_speed.hpp"

#include <algorithm>
#include <array>
#include <utility>

#include "fea/chatter/limits/depth_stability.hpp"
#include "fea/judgement/answer/levels.hpp"
#include "fea/judgement/answer/speed_window.hpp"
#include "fea/judgement/answer/weight.hpp"
#include "fea/judgement/cut/corner.hpp"
#include "fea/judgement/holding/holding.hpp"
#include "fea/judgement/reach/reach.hpp"
#include "fea/judgement/speed/push_off.hpp"
#include "fea/judgement/speed/spindle_power.hpp"
#include "fea/judgement/speed/tool_stress.hpp"

namespace standfast {
namespace {

constexpr int kHeights = 9;

std::optional<double> first_hertz(const SolvedSide& tool) {
    if (tool.rigid || tool.modal.terms.empty()) return std::nullopt;
    double first = tool.modal.terms.front().frequency.hertz();
    for (const ModalTerm& term : tool.modal.terms) first = std::min(first, term.frequency.hertz());
    return first;
}

double whirl_ratio_of(const SlowAnswer& slow, SpindleSpeed speed) {
    return slow.first_tool_hertz ? speed.revolutions_per_second() / *slow.first_tool_hertz : 0;
}

std::vector<CutLoad> loads_of(const CutProblem& problem, double depth) {
    const Job& job = *problem.job;
    if (job.stack.tiers.empty()) return {};
    RigidCut cut = problem.cut;
    cut.depth = depth;
    const TierFrame frame = tier_frames(job.stack)[problem.pass().tier];
    return cut_loads(cut, problem.pass(), frame, load_headings(job, problem.pass()),
                     job.limits.wear_factor);
}

ToolStressResult stress_of(const CutProblem& problem, double depth) {
    RigidCut cut = problem.cut;
    cut.depth = depth;
    const double lateral = peak_force(cut).head<2>().norm() * problem.job->limits.wear_factor;
    return judge_tool_stress(problem.tool_chain(), lateral, depth, problem.job->limits);
}

/// Depth beyond the flutes rubs the shank against the wall.
Finding judge_flute(const Cutter& cutter, double depth) {
    const bool beyond = cutter.flute_length > 0 && depth > cutter.flute_length * (1 + 1e-9);
    return {beyond ? Level::avoid : Level::unflagged, Reason::reach};
}

ReachResult reach_of(const CutProblem& problem) {
    const Job& job = *problem.job;
    if (problem.distance == nullptr) {
        ReachResult unknown;
        unknown.why_not = "not looked at here";
        return unknown;
    }
    return reach_of_pass(job, problem.pass(), *problem.distance, reach_options(job));
}

double cautious_share(double share, const Tried& tried) {
    return share + tried.caution * counting_error(share, tried.cut->tries);
}

/// Level of chatter with an edge that does not rub; unflagged where rubbing is not the group's.
Level fresh_edge_level(const CutProblem& problem, const SlowAnswer& slow, SpindleSpeed speed,
                       const Tried& tried) {
    const Limits& limits = problem.job->limits;
    if (tried.cut) {
        return tried.cut->fresh_unstable
                   ? judge_chatter_odds(cautious_share(*tried.cut->fresh_unstable, tried), limits)
                         .level
                   : Level::unflagged;
    }
    if (slow.odds && slow.odds->fresh_edge && slow.odds->judged == speed) {
        return judge_chatter_odds(*slow.odds->fresh_edge, limits).level;
    }
    if (!rubs_as_its_group(problem)) return Level::unflagged;
    DelaySystem fresh = delay_system(problem, slow.heading);
    fresh.law.process_damping = 0;
    return growth(prepare_depth(fresh, slow.depth), speed) > 1 ? Level::avoid : Level::unflagged;
}

/// A finding, and the share of all tries that it spoils.
struct ShareOfTries {
    Finding finding;
    double spoiled = 0;
};

ShareOfTries chatter_by_tries(const SlowAnswer& slow, const SpeedLimit& limit, const Limits& limits,
                              const Tried& tried) {
    std::optional<double> share;
    if (tried.cut) {
        share = cautious_share(tried.cut->unstable, tried);
    } else if (slow.odds) {
        share = unstable_at(*slow.odds, limit.speed);
    }
    if (!share) return {judge_chatter(slow.depth, limit.limit, limits)};
    return {judge_chatter_tried(slow.depth, limit.limit, *share, limits), *share};
}

ShareOfTries wall_by_tries(const std::optional<WallMotion>& nominal, const Pass& pass,
                           const Limits& limits, const Tried& tried) {
    if (tried.cut && tried.cut->wall) {
        const WallTries& wall = *tried.cut->wall;
        return {judge_wall_tries(wall, pass, limits, tried.caution),
                (1 - tried.cut->unstable) * share_outside(wall, pass, limits)};
    }
    // Too few stable tries say nothing of the wall, and chatter leads then.
    if (tried.cut || !nominal) return {{Level::unflagged, Reason::surface_error}};
    return {judge_error(nominal->largest_error, pass, limits)};
}

}  // namespace

SlowAnswer slow_answer(const CutProblem& problem, const Headings& headings, double depth,
                       SpindleSpeed slowest, int height_count) {
    RigidCut cut = problem.cut;
    cut.depth = depth;
    const std::vector<double> heights = wall_heights(depth, height_count);
    return {.depth = depth,
            .heading = headings.stability,
            .torque = mean_torque(cut),
            .slow_vibration = slow_vibration(problem, headings.error, depth),
            .first_tool_hertz = first_hertz(*problem.tool),
            .heights = heights,
            .motions = std::make_shared<const WallMotions>(
                edge_at_heading(problem, headings.error, depth), cut, slowest, heights)};
}

AtSpeed judge_at_speed(const CutProblem& problem, const SlowAnswer& slow, const SpeedLimit& limit,
                       const Tried& tried) {
    const Job& job = *problem.job;
    const Pass& pass = problem.pass();
    AtSpeed at{.limit = limit, .motion = std::nullopt, .findings = {}, .verdict = {}};
    std::vector<Finding>& findings = at.findings;
    if (!limit.limit || slow.depth < *limit.limit) at.motion = slow.motions->at(limit.speed);
    ShareOfTries chatter = chatter_by_tries(slow, limit, job.limits, tried);
    if (chatter.finding.level == Level::unflagged) {
        chatter.finding.level = with_rubbing_unmeasured(
            Level::unflagged, fresh_edge_level(problem, slow, limit.speed, tried));
    }
    const ShareOfTries wall = wall_by_tries(at.motion, pass, job.limits, tried);
    // Beyond the computed edge nothing else heads the verdict.
    if (!at.motion) chatter.finding.level = std::max(chatter.finding.level, wall.finding.level);
    const bool wall_first = at.motion && wall.spoiled > chatter.spoiled;
    for (const ShareOfTries& one :
         wall_first ? std::array{wall, chatter} : std::array{chatter, wall}) {
        findings.push_back(one.finding);
    }
    if (at.motion) {
        findings.push_back(
            judge_resonance(at.motion->peak_to_peak, slow.slow_vibration, job.limits));
    }
    findings.push_back(judge_whirl(whirl_ratio_of(slow, limit.speed), job.limits));
    for (const Finding& finding : judge_speed(job, pass, limit.speed)) findings.push_back(finding);
    findings.push_back(
        judge_power_level(spindle_power(job.machine, slow.torque, limit.speed), job.limits));
    at.verdict = verdict_of(findings);
    return at;
}

PassAnswer answer_pass(const CutProblem& problem, const Headings& headings, const SpeedLimit& limit,
                       double depth, const Tried& tried) {
    const Job& job = *problem.job;
    const Pass& pass = problem.pass();
    const SlowAnswer slow = slow_answer(problem, headings, depth, limit.speed, kHeights);
    PassAnswer answer;
    answer.headings = headings;
    answer.at = judge_at_speed(problem, slow, limit, tried);
    answer.tried = tried.cut;
    answer.statics = push_off(problem, headings.error, depth);
    answer.holding = judge_holding(job, pass, loads_of(problem, depth));
    answer.tool_stress = stress_of(problem, depth);
    answer.weight = judge_weight(job.machine, job.stack, pass);
    answer.reach = reach_of(problem);
    answer.whirl_ratio = whirl_ratio_of(slow, limit.speed);
    answer.power = spindle_power(job.machine, slow.torque, limit.speed);

    // Holding first: of equal levels it is the one that can hurt someone.
    std::vector<Finding> findings{judge_holding_level(answer.holding, job.limits)};
    findings.push_back(judge_reach_level(answer.reach));
    findings.insert(findings.end(), answer.at.findings.begin(), answer.at.findings.end());
    answer.in_corner = corner_limit(problem, headings.stability, limit.speed);
    if (answer.in_corner) {
        findings.push_back(judge_chatter(depth, answer.in_corner->limit, job.limits));
    }
    if (!allowed_error(pass)) {
        findings.push_back(judge_error(answer.statics.error, pass, job.limits));
    }
    findings.push_back(judge_tool_stress_level(answer.tool_stress, job.limits));
    findings.push_back(judge_flute(problem.tool_chain().cutter, depth));
    findings.push_back(judge_weight_level(answer.weight, job.limits));
    answer.verdict = verdict_of(findings);
    return answer;
}

PassAnswer judge_cut(const CutProblem& problem, const Headings& headings, const CutTries& tries,
                     const SpeedLimit& limit, double depth, double caution) {
    Tried tried{.cut = std::nullopt, .caution = caution};
    if (!tries.none()) tried.cut = try_cut(problem, tries, limit.speed, depth);
    return answer_pass(problem, headings, limit, depth, tried);
}

}  // namespace standfast
