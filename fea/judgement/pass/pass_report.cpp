#include "fea/judgement/pass/pass_report.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "fea/judgement/advice/advice.hpp"
#include "fea/judgement/cut/sides.hpp"
#include "fea/judgement/cut/speed_grid.hpp"
#include "fea/judgement/pass/march_pass.hpp"
#include "fea/judgement/reach/machine_reach.hpp"
#include "fea/judgement/reach/reach.hpp"
#include "fea/judgement/speed/best_speed.hpp"
#include "fea/judgement/speed/speed_map.hpp"
#include "fea/judgement/speed/surface_map.hpp"
#include "fea/judgement/tries/pass_odds.hpp"
#include "fea/quantities/for_each_index.hpp"

namespace standfast {
namespace {

constexpr int kSpeeds = 360;
constexpr int kRefined = 40;
// Speeds that may not be offered are there to show where chatter begins: so far apart will do.
constexpr double kThinned = 1.12;
// So many waves between two teeth leave lobes less than 2 % wide in speed.
constexpr double kMostLobes = 12;
constexpr int kProfileHeights = 9;
// So few speeds are asked for by somebody who looks at each.
constexpr std::size_t kFewSpeeds = 24;
constexpr double kIslandsTo = 2;

/// Speed, rad/s, below which lobes of the mode that answers most are too narrow to be held.
double too_narrow_below(const CutProblem& problem) {
    double most = 0, w = 0;
    for (const SolvedSide* side : {problem.tool.get(), problem.work.get()}) {
        for (const ModalTerm& term : side->modal.terms) {
            const double wn = term.frequency.radians_per_second;
            const double peak =
                term.shape.squaredNorm() / (wn * wn * 2 * std::max(term.damping_ratio, 1e-4));
            if (peak > most) {
                most = peak;
                w = wn;
            }
        }
    }
    return w / (kMostLobes * problem.cut.cutter.teeth());
}

/// Default speeds; those that may not be offered, or whose lobes are too narrow, thinned out.
std::vector<SpindleSpeed> speeds_to_map(const CutProblem& problem) {
    const Machine& machine = problem.job->machine;
    const SpeedWindow offered = offered_window(*problem.job, problem.pass());
    const std::vector<SpindleSpeed> all = default_speeds(machine.slowest, machine.fastest, kSpeeds);
    const double narrow = too_narrow_below(problem);
    std::vector<SpindleSpeed> speeds;
    for (std::size_t i = 0; i < all.size(); ++i) {
        const bool end = i == 0 || i + 1 == all.size();
        const bool matters = offered.contains(all[i]) && all[i].radians_per_second >= narrow;
        const bool apart = speeds.empty() ||
                           all[i].radians_per_second >= kThinned * speeds.back().radians_per_second;
        if (end || apart || matters) speeds.push_back(all[i]);
    }
    return speeds;
}

/// Limits over all speeds: those asked for, or the default ones refined near the minima; the
/// programmed speed among them.
StabilityLimits limits_over_speeds(const CutProblem& problem, double heading,
                                   const CheckOptions& options) {
    const bool chosen = !options.speeds.empty();
    const std::vector<SpindleSpeed> speeds = chosen ? options.speeds : speeds_to_map(problem);
    std::vector<SpindleSpeed> programmed;
    if (problem.pass().speed) programmed.push_back(*problem.pass().speed);
    const double islands_to = chosen && speeds.size() <= kFewSpeeds ? kIslandsTo : 1;
    StabilityLimits limits =
        limits_at_heading(problem, heading, merge_speeds(speeds, programmed), islands_to);
    if (chosen) return limits;
    std::vector<SpindleSpeed> added = speeds_near_minima(limits, kRefined);
    const SpeedWindow offered = offered_window(*problem.job, problem.pass());
    std::erase_if(added, [&](SpindleSpeed speed) { return !offered.contains(speed); });
    if (added.empty()) return limits;
    const StabilityLimits refined = limits_at_heading(problem, heading, added);
    limits.speeds.insert(limits.speeds.end(), refined.speeds.begin(), refined.speeds.end());
    std::stable_sort(limits.speeds.begin(), limits.speeds.end(),
                     [](const SpeedLimit& a, const SpeedLimit& b) { return a.speed < b.speed; });
    return limits;
}

const SpeedLimit& nearest(const StabilityLimits& limits, SpindleSpeed speed) {
    return *std::min_element(
        limits.speeds.begin(), limits.speeds.end(), [&](const SpeedLimit& a, const SpeedLimit& b) {
            return std::abs(a.speed.radians_per_second - speed.radians_per_second) <
                   std::abs(b.speed.radians_per_second - speed.radians_per_second);
        });
}

/// Speed and depth at which the pass is judged.
struct Judged {
    SpindleSpeed speed;
    double depth = 0;
};

/// Programmed where given; else recommended; else, where nothing may be recommended, the speed with
/// the highest limit in the window (or the machine's range) and half that limit.
Judged judged_at(const CutProblem& problem, const Headings& headings, const StabilityLimits& limits,
                 const SpeedWindow& offered, const CutTries& tries,
                 const std::optional<Recommendation>& best) {
    const Pass& pass = problem.pass();
    const double deepest = deepest_cut(problem.tool_chain().cutter);
    if (pass.speed && pass.axial) return {*pass.speed, *pass.axial};
    if (pass.speed) {
        const SpeedLimit& at = nearest(limits, *pass.speed);
        if (const auto depth = best_depth_at(problem, headings, at, tries)) {
            return {*pass.speed, depth->depth};
        }
        return {*pass.speed, std::min(deepest, at.limit.value_or(deepest) / 2)};
    }
    if (best) return {best->speed, pass.axial.value_or(best->depth)};
    StabilityLimits choice = limits;
    std::erase_if(choice.speeds, [&](const SpeedLimit& at) { return !offered.contains(at.speed); });
    if (choice.speeds.empty()) choice = limits;
    const SpeedLimit& at = *std::max_element(
        choice.speeds.begin(), choice.speeds.end(), [&](const SpeedLimit& a, const SpeedLimit& b) {
            return a.limit.value_or(problem.searched_to) < b.limit.value_or(problem.searched_to);
        });
    return {at.speed, pass.axial.value_or(std::min(deepest, at.limit.value_or(deepest) / 2))};
}

std::vector<AtSpeed> judge_speeds(const CutProblem& problem, const SlowAnswer& slow,
                                  const StabilityLimits& limits) {
    std::vector<AtSpeed> at(limits.speeds.size());
    for_each_index(at.size(),
                   [&](std::size_t i) { at[i] = judge_at_speed(problem, slow, limits.speeds[i]); });
    return at;
}

void take_answer(PassReport& report, PassAnswer answer) {
    report.verdict = std::move(answer.verdict);
    report.statics = std::move(answer.statics);
    report.at_programmed = std::move(answer.at.limit);
    if (answer.at.motion) {
        report.error_at_programmed = answer.at.motion->largest_error;
        report.vibration_at_programmed = answer.at.motion->peak_to_peak;
        report.waviness_at_programmed = answer.at.motion->waviness;
    }
    report.in_corner = std::move(answer.in_corner);
    report.holding = std::move(answer.holding);
    report.tool_stress = std::move(answer.tool_stress);
    report.weight = answer.weight;
    report.reach = std::move(answer.reach);
    report.whirl_ratio = answer.whirl_ratio;
    report.power = answer.power;
    if (answer.tried) report.wall = std::move(answer.tried->wall);
}

/// The limit that was computed nearest to a speed of a band.
const SpeedLimit& limit_at(const std::vector<AtSpeed>& at, SpindleSpeed speed) {
    return std::min_element(at.begin(), at.end(),
                            [&](const AtSpeed& a, const AtSpeed& b) {
                                const double wanted = speed.radians_per_second;
                                return std::abs(a.limit.speed.radians_per_second - wanted) <
                                       std::abs(b.limit.speed.radians_per_second - wanted);
                            })
        ->limit;
}

/// Bands that the tries hold, in the middle all of them, at the ends a few.
std::vector<SpeedBand> quiet_by_tries(const CutProblem& problem, const Headings& headings,
                                      const CutTries& tries, const std::vector<AtSpeed>& at,
                                      double depth, std::vector<SpeedBand> bands) {
    if (tries.none()) return bands;
    const CutTries few = a_few(tries);
    std::vector<char> quiet(bands.size(), 1);
    for_each_index(bands.size(), [&](std::size_t i) {
        const SpindleSpeed middle{
            (bands[i].from.radians_per_second + bands[i].to.radians_per_second) / 2};
        const auto quiet_here = [&](SpindleSpeed speed, const CutTries& by) {
            return quiet_at(problem, headings, by, limit_at(at, speed), depth);
        };
        const bool holds = quiet_here(bands[i].from, few) && quiet_here(bands[i].to, few) &&
                           quiet_here(middle, tries);
        quiet[i] = holds ? 1 : 0;
    });
    std::vector<SpeedBand> kept;
    for (std::size_t i = 0; i < bands.size(); ++i) {
        if (quiet[i] != 0) kept.push_back(bands[i]);
    }
    return kept;
}

/// What is known before anything is judged.
PassReport report_of_cut(const CutProblem& problem, const CheckOptions& options) {
    const Pass& pass = problem.pass();
    const ToolChain& tool = problem.tool_chain();
    PassReport report;
    report.name = pass.name;
    report.tool = tool.name;
    report.pass = problem.pass_index;
    report.tool_modes = reported_modes(*problem.tool, options.listed_modes);
    report.work_modes = reported_modes(*problem.work, options.listed_modes);
    report.gauge_length = gauge_length(tool);
    report.stickout = tool.cutter.stickout;
    report.engagement = problem.cut.engagement;
    report.law = problem.cut.law;
    report.programmed_speed = pass.speed;
    return report;
}

/// What would clear, where reach is judged.
void seek_least(ReachResult& reach, const CutProblem& problem) {
    if (!reach.judged) return;
    const Job& job = *problem.job;
    const Pass& pass = problem.pass();
    const ReachOptions options = reach_options(job);
    reach.least_stickout = least_stickout(job, pass, *problem.distance, options);
    const std::optional<std::size_t> riser = riser_under(job, pass);
    if (!riser) return;
    reach.riser = job.stack.tiers[*riser].name;
    reach.least_riser_height = least_riser_height(job, pass, *riser, *problem.distance, options);
}

void fill_at(PassReport& report, const CutProblem& problem, const Judged& judged) {
    RigidCut cut = problem.cut;
    cut.depth = judged.depth;
    report.judged_speed = judged.speed;
    report.judged_depth = judged.depth;
    report.tooth_passing_hertz = tooth_passing_hertz(judged.speed, cut.cutter.teeth());
    report.mean_force = mean_force(cut);
    report.peak_force = peak_force(cut);
    report.cutting_speed = cutting_speed_of(problem.tool_chain().cutter, judged.speed);
}

}  // namespace

PassReport report_pass(const CutProblem& problem, const CheckOptions& options) {
    const Job& job = *problem.job;
    const Pass& pass = problem.pass();
    PassReport report = report_of_cut(problem, options);
    const Headings headings = headings_of(problem);
    report.feed_heading = headings.stability;
    report.error_heading = headings.error;
    report.worst_heading = headings.searched;

    const SpeedWindow offered = offered_window(job, pass);
    report.stability = limits_over_speeds(problem, headings.stability, options);
    const CutTries tries =
        report.stability.fallback.empty() ? cut_tries(problem, headings) : CutTries{};
    // Where speed and depth are programmed, their odds tell which speeds are worth trying.
    const bool programmed = pass.speed && pass.axial;
    if (!programmed) {
        report.best = best_speed_and_depth(problem, headings, report.stability, offered, tries);
    }
    const Judged judged =
        judged_at(problem, headings, report.stability, offered, tries, report.best);
    fill_at(report, problem, judged);
    report.edge = edge_report(problem, judged.depth, report.tool_modes, report.work_modes);

    std::shared_ptr<const ChatterOdds> odds;
    if (!tries.none()) {
        odds = pass_odds(problem, tries, headings.stability, judged.speed, judged.depth,
                         options.speeds, options.odds);
        report.odds = *odds;
    }
    if (programmed) {
        report.best =
            best_speed_and_depth(problem, headings, report.stability, offered, tries, odds.get());
    }
    const SpindleSpeed slowest = std::min(report.stability.speeds.front().speed, judged.speed);
    SlowAnswer slow = slow_answer(problem, headings, judged.depth, slowest, kProfileHeights);
    slow.odds = odds;
    report.low_speed_vibration = slow.slow_vibration;
    const std::vector<AtSpeed> at = judge_speeds(problem, slow, report.stability);
    SpeedMap map = speed_map(at, offered, job.limits);
    report.speeds = std::move(map.speeds);
    report.quiet_bands =
        quiet_by_tries(problem, headings, tries, at, judged.depth, std::move(map.quiet_bands));
    report.stay_off = std::move(map.stay_off);
    report.surface = surface_map(problem, headings.error, at, slow);

    PassAnswer answer =
        judge_cut(problem, headings, tries, nearest(report.stability, judged.speed), judged.depth);
    seek_least(answer.reach, problem);
    if (options.advise) {
        Advised advised = advise({&problem, answer, report.stability, offered, report.best,
                                  judged.speed, judged.depth, tries, odds, options.odds});
        report.advice = std::move(advised.list);
        report.nothing_reaches = advised.nothing_reaches;
    }
    if (answer.at.motion) {
        if (const auto fed_back =
                fed_back_at(problem, headings.error, slow, judged.speed, *answer.at.motion)) {
            report.fed_back_at_programmed = fed_back->largest_error;
        }
    }
    take_answer(report, std::move(answer));
    if (options.march) {
        const SpindleSpeed asked =
            options.speeds.size() == 1 ? options.speeds.front() : judged.speed;
        report.march = march_pass(problem, headings.stability, asked, judged.depth);
    }
    report.not_judged = not_judged_here(job, report);
    if (report.edge.one_point && report.judged_depth > 0) {
        report.not_judged.push_back(
            "how measured modes differ along the edge: the point's motion serves for its whole "
            "depth");
    }
    return report;
}

namespace {

std::vector<std::string> reach_not_judged(const Job& job, const PassReport& report) {
    if (!report.reach.judged) {
        return {"reach: " + report.reach.why_not, "travel, swing and tool change"};
    }
    std::vector<std::string> list;
    for (const std::string& item : report.reach.left_out) list.push_back("reach past " + item);
    if (std::string missing = machine_figures_missing(job, job.passes[report.pass]);
        !missing.empty()) {
        list.push_back(std::move(missing));
    }
    return list;
}

}  // namespace

std::vector<std::string> never_judged() {
    return {"entries and exits of the path",
            "drilling and tapping",
            "collisions along the toolpath",
            "travel in x and y, what stands beside the table, the spindle head above its nose",
            "what gives while a rotary axis moves",
            "give of a host's wall, plate action of thin walls"};
}

std::vector<std::string> not_judged_here(const Job& job, const PassReport& report) {
    std::vector<std::string> list = reach_not_judged(job, report);
    if (!report.stability.fallback.empty()) {
        list.push_back("edge of chatter by the periodic method, averaged (zero-order) instead: " +
                       report.stability.fallback);
    }
    if (!report.holding.judged) list.push_back("holding: " + report.holding.why_not);
    if (!report.tool_stress.judged) {
        list.push_back("bending stress of the cutter: " + report.tool_stress.why_not);
    }
    list.emplace_back(job.passes[report.pass].corner_radius
                          ? "inside corners, but for chatter"
                          : "corners of the path: no corner_radius given");
    if (!job.stack.supports.empty()) list.emplace_back("what a support adds to holding");
    if (!report.power.judged) list.emplace_back("power and torque of the spindle: not known");
    if (!report.weight.allowed) list.emplace_back("weight: no carry_max given");
    if (job.machine.rotary_moving) {
        list.emplace_back("give of the table while its rotary axes move (rotary = \"moving\")");
    }
    if (!job.passes[report.pass].tolerance && !job.passes[report.pass].leave) {
        list.emplace_back("wall error against a tolerance: none given");
    }
    return list;
}

}  // namespace standfast
