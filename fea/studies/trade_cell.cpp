#include "fea/studies/trade_cell.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "fea/chatter/limit_search.hpp"
#include "fea/judgement/best_speed.hpp"
#include "fea/judgement/levels.hpp"
#include "fea/judgement/sides.hpp"
#include "fea/judgement/speed_grid.hpp"

namespace standfast {
namespace {

// Just inside the threshold at which chatter is flagged.
constexpr double kInside = 0.999;
// So often the best speed of the sketch is looked for and confirmed; one that keeps so much of
// what the sketch promised ends the search.
constexpr int kRounds = 4;
constexpr double kHolds = 0.9;
constexpr int kHeights = 5;
constexpr double kSmallCorner = 0.1;
// A sketch may sample this much more coarsely than what is reported.
constexpr double kCoarser = 2.5;

bool is_flexible(const SolvedSide& side) { return !side.rigid; }

void sample(CutProblem& problem, double coarser) {
    if (is_flexible(*problem.tool) || is_flexible(*problem.work))
        problem.samples = std::make_shared<const SideSamples>(
            sample_sides(*problem.tool, *problem.work, ModeChoice{}.up_to, coarser));
}

CutProblem unsampled(const TradePassCase& of, const Job& job, const TradedTool& tool,
                     StabilityMethod method) {
    CutProblem problem;
    problem.job = &job;
    problem.pass_index = of.pass;
    problem.tool = tool.side;
    problem.work = of.work;
    problem.method = method;
    const Pass& pass = problem.pass();
    problem.cut = rigid_cut(job, pass, 0);
    const Cutter& cutter = problem.tool_chain().cutter;
    problem.searched_to = search_depth(cutter.flute_length, cutter.diameter);
    return problem;
}

double chatter_depth(const TradePassCase& of, const std::optional<double>& limit, double deepest) {
    const double margin = of.job->limits.chatter_depth_marginal * kInside;
    return limit ? std::min(deepest, margin * *limit) : deepest;
}

/// Depth at which push-off, taken as proportional to depth, uses up what the tolerance leaves
/// unflagged, m.
double error_depth(const TradePassCase& of, double error_at_usual) {
    const Pass& pass = of.job->passes[of.pass];
    const Limits& limits = of.job->limits;
    const std::optional<double> allowed = allowed_error(pass);
    const double most =
        allowed ? *allowed * limits.surface_error_marginal : limits.deflection_marginal;
    return error_at_usual > 0 ? of.usual_depth * most / error_at_usual : HUGE_VAL;
}

/// The smallest limit over half a least band either side of a speed: a spindle is never at its
/// number exactly.
SpeedLimit banded_limit(const CutProblem& problem, double heading, SpindleSpeed speed) {
    const double half = problem.job->limits.least_band / 2;
    const std::vector<SpindleSpeed> about = {
        {speed.radians_per_second * (1 - half)}, speed, {speed.radians_per_second * (1 + half)}};
    const StabilityLimits limits = limits_at_heading(problem, heading, about);
    SpeedLimit least = limits.speeds[1];
    for (const SpeedLimit& at : limits.speeds)
        if (at.limit && (!least.limit || *at.limit < *least.limit)) least.limit = at.limit;
    return least;
}

double worth_of(const Recommendation& r) { return r.speed.radians_per_second * r.depth; }

/// Depth, m, at which a motion that grows in proportion to depth is not flagged yet, by wall error
/// or by resonance.
double motion_depth(const TradePassCase& of, const WallMotion& motion, double slow) {
    const Limits& limits = of.job->limits;
    double depth = error_depth(of, std::abs(motion.largest_error));
    const bool rings = motion.peak_to_peak >= limits.resonance_gain_marginal * slow;
    if (rings && motion.peak_to_peak > 0)
        depth = std::min(depth, of.usual_depth * limits.resonance_least / motion.peak_to_peak);
    return depth * kInside;
}

/// Lowers the usable depths to what the motion of the cut allows, the most hopeful speeds first,
/// until no other can be worth more; sets the worth.
void look_at_motion(const CutProblem& problem, const TradePassCase& of, CellSketch& sketch) {
    const auto worth = [&](std::size_t i) {
        return of.speeds[i].radians_per_second * sketch.usable[i];
    };
    std::vector<std::size_t> order(of.speeds.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::stable_sort(order.begin(), order.end(),
                     [&](std::size_t a, std::size_t b) { return worth(a) > worth(b); });
    const SlowAnswer slow =
        slow_answer(problem, of.headings, of.usual_depth, of.speeds.front(), kHeights);
    for (const std::size_t i : order) {
        if (worth(i) <= sketch.worth) break;
        const WallMotion motion = slow.motions->at(of.speeds[i]);
        sketch.usable[i] =
            std::min(sketch.usable[i], motion_depth(of, motion, slow.slow_vibration));
        sketch.worth = std::max(sketch.worth, worth(i));
    }
}

StabilityLimits as_limits(const CutProblem& problem, const std::vector<SpeedLimit>& speeds) {
    return {.method = problem.method, .searched_to = problem.searched_to, .speeds = speeds};
}

/// The best of the sketch's speeds, confirmed by the problem's own method: one that does not hold
/// there gets the confirmed limit, and the next best is looked for.
std::optional<Recommendation> confirmed_best(const CutProblem& open, const TradePassCase& of,
                                             const CellSketch& sketch, const Headings& headings) {
    std::vector<SpeedLimit> speeds(of.speeds.size());
    for (std::size_t i = 0; i < speeds.size(); ++i) {
        speeds[i].speed = of.speeds[i];
        speeds[i].limit = sketch.limits[i];
    }
    std::optional<Recommendation> best;
    for (int round = 0; round < kRounds; ++round) {
        const auto hoped =
            best_speed_and_depth(open, headings, as_limits(open, speeds), of.offered);
        if (!hoped || (best && worth_of(*hoped) <= worth_of(*best))) break;
        const SpeedLimit confirmed = banded_limit(open, headings.stability, hoped->speed);
        const auto found = best_depth_at(open, headings, confirmed);
        if (found && (!best || worth_of(*found) > worth_of(*best))) best = found;
        if (found && worth_of(*found) >= kHolds * worth_of(*hoped)) break;
        for (SpeedLimit& at : speeds)
            if (at.speed == hoped->speed) at.limit = confirmed.limit;
    }
    return best;
}

}  // namespace

TradePassCase trade_pass_case(const Job& job, const Job& open, std::size_t pass_index,
                              const std::shared_ptr<const SolvedSide>& work, const TradedTool& own,
                              const TradeSettings& settings) {
    const Pass& pass = job.passes[pass_index];
    TradePassCase of;
    of.job = &job;
    of.open = &open;
    of.pass = pass_index;
    of.work = work;
    of.offered = offered_window(job, pass);
    SpindleSpeed from = of.offered.from, to = of.offered.to;
    if (!(from < to)) {
        // Nothing may be offered; the machine's own range still tells where chatter begins.
        from = job.machine.slowest;
        to = job.machine.fastest;
    }
    of.speeds = from < to ? default_speeds(from, to, settings.speeds) : std::vector{from};
    of.usual_depth = pass.axial.value_or(job.tools[pass.tool].cutter.diameter / 2);
    of.feed_per_revolution = pass.feed_per_tooth * job.tools[pass.tool].cutter.teeth;
    if (const std::optional<double> fixed = fixed_heading(job, pass)) {
        of.headings = {*fixed, *fixed, false};
    } else {
        CutProblem problem = unsampled(of, job, own, settings.method);
        sample(problem, kCoarser);
        of.headings = judged_headings(problem, representative_speeds(job, pass), of.usual_depth);
    }
    return of;
}

Job job_of_cell(const TradePassCase& of, const TradedTool& tool) {
    Job job = *of.job;
    job.tools[job.passes[of.pass].tool] = tool.chain;
    return job;
}

CutProblem trade_problem(const TradePassCase& of, const Job& job, const TradedTool& tool,
                         const TradeSettings& settings) {
    CutProblem problem = unsampled(of, job, tool, settings.method);
    problem.distance = settings.distance;
    const Pass& pass = problem.pass();
    if (settings.method == StabilityMethod::zero_order || !fixed_heading(*of.job, pass) ||
        pass.corner_radius)
        sample(problem, 1);
    return problem;
}

CellSketch sketch_cell(const TradePassCase& of, const TradedTool& tool) {
    CutProblem problem = unsampled(of, *of.job, tool, StabilityMethod::zero_order);
    sample(problem, kCoarser);
    // A small corner radius couples the axial direction in, which costs much and ranks nothing.
    double& corner = problem.cut.cutter.corner_radius;
    if (corner < kSmallCorner * problem.cut.cutter.diameter) corner = 0;
    const Pass& pass = problem.pass();
    std::vector<SpindleSpeed> speeds = of.speeds;
    if (pass.speed) speeds.push_back(*pass.speed);
    const StabilityLimits limits =
        ranking_limits(problem, of.headings.stability, speeds, of.usual_depth);
    const double deepest = deepest_cut(problem.tool_chain().cutter);
    const double error = std::abs(static_wall_error(problem, of.headings.error, of.usual_depth));
    const double within_error = error_depth(of, error);

    CellSketch sketch;
    for (std::size_t i = 0; i < of.speeds.size(); ++i) {
        const std::optional<double>& limit = limits.speeds[i].limit;
        const bool offered = of.offered.contains(of.speeds[i]);
        const double depth = std::min(chatter_depth(of, limit, deepest), within_error);
        sketch.limits.push_back(limit);
        sketch.usable.push_back(offered ? depth : 0);
    }
    look_at_motion(problem, of, sketch);
    if (pass.speed) {
        sketch.limit = limits.speeds.back().limit;
        const Limits& levels = of.job->limits;
        const double depth = pass.axial.value_or(of.usual_depth);
        sketch.push_off_level = judge_error(error, pass, levels).level;
        sketch.level =
            std::max(judge_chatter(depth, sketch.limit, levels).level, sketch.push_off_level);
    }
    return sketch;
}

CellLimits cell_limits(const TradePassCase& of, const TradedTool& tool, SpindleSpeed speed,
                       const TradeSettings& settings) {
    const CutProblem problem = trade_problem(of, *of.job, tool, settings);
    std::vector<SpindleSpeed> speeds{speed};
    if (settings.every_speed) speeds.insert(speeds.end(), of.speeds.begin(), of.speeds.end());
    const StabilityLimits limits = limits_at_heading(problem, of.headings.stability, speeds);
    return {.at = limits.speeds.front(), .every = {limits.speeds.begin() + 1, limits.speeds.end()}};
}

CellAnswer work_out_cell(const TradePassCase& of, const TradedTool& tool, const CellSketch& sketch,
                         const TradeSettings& settings) {
    const Job job = job_of_cell(of, tool);
    const CutProblem problem = trade_problem(of, job, tool, settings);
    const Pass& pass = problem.pass();
    CellAnswer cell;
    cell.headings =
        of.headings.searched
            ? judged_headings(problem, representative_speeds(*of.job, pass), of.usual_depth)
            : of.headings;
    CutProblem open = problem;
    open.job = of.open;
    if (settings.every_speed) {
        const std::vector<SpeedLimit> every =
            limits_at_heading(problem, cell.headings.stability, of.speeds).speeds;
        for (const SpeedLimit& at : every) cell.limits.push_back(at.limit);
        cell.best =
            best_speed_and_depth(open, cell.headings, as_limits(problem, every), of.offered);
    } else {
        cell.best = confirmed_best(open, of, sketch, cell.headings);
    }
    if (cell.best)
        cell.removal = pass.radial * cell.best->depth * of.feed_per_revolution *
                       cell.best->speed.revolutions_per_second();
    const double half = deepest_cut(problem.tool_chain().cutter) / 2;
    cell.speed = pass.speed.value_or(cell.best ? cell.best->speed : of.speeds.back());
    cell.limit = limits_at_heading(problem, cell.headings.stability, {cell.speed}).speeds[0];
    cell.depth = pass.axial.value_or(cell.best ? cell.best->depth
                                               : std::min(half, cell.limit.limit.value_or(half)));
    cell.answer = answer_pass(problem, cell.headings, cell.limit, cell.depth);
    return cell;
}

}  // namespace standfast
