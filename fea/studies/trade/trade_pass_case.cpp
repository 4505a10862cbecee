#include "fea/studies/trade/trade_pass_case.hpp"

#include <algorithm>
#include <cmath>

#include "fea/judgement/answer/levels.hpp"
#include "fea/judgement/cut/sides.hpp"
#include "fea/judgement/cut/speed_grid.hpp"

namespace standfast {
namespace {

// Just inside the threshold at which chatter is flagged.
constexpr double kInside = 0.999;

void sample(CutProblem& problem, double coarser) {
    if (nothing_gives(problem)) return;
    problem.frequencies = grid_of_both(*problem.tool, *problem.work, coarser);
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
    problem.searched_to = searched_depth(job, pass, *problem.tool, *problem.work);
    return problem;
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
        const CutProblem problem = sketch_problem(of, own, true);
        of.headings = judged_headings(problem, representative_speeds(job, pass), of.usual_depth);
    }
    return of;
}

Job job_of_cell(const TradePassCase& of, const TradedTool& tool) {
    Job job = *of.job;
    job.tools[of.cut().tool] = tool.chain;
    return job;
}

CutProblem trade_problem(const TradePassCase& of, const Job& job, const TradedTool& tool,
                         const TradeSettings& settings) {
    CutProblem problem = unsampled(of, job, tool, settings.method);
    problem.distance = settings.distance;
    const Pass& pass = problem.pass();
    if (settings.method == StabilityMethod::zero_order || !fixed_heading(*of.job, pass) ||
        pass.corner_radius) {
        sample(problem, 1);
    }
    return problem;
}

CutProblem sketch_problem(const TradePassCase& of, const TradedTool& tool, bool sampled) {
    CutProblem problem = unsampled(of, *of.job, tool, StabilityMethod::zero_order);
    if (sampled) sample(problem, kSketchCoarser);
    return problem;
}

double chatter_depth(const TradePassCase& of, const std::optional<double>& limit, double deepest) {
    const double margin = of.job->limits.chatter_depth_marginal * kInside;
    return limit ? std::min(deepest, margin * *limit) : deepest;
}

double error_depth(const TradePassCase& of, double error_at_usual) {
    const Limits& limits = of.job->limits;
    const std::optional<double> allowed = allowed_error(of.cut());
    const double most =
        allowed ? *allowed * limits.surface_error_marginal : limits.deflection_marginal;
    return error_at_usual > 0 ? of.usual_depth * most / error_at_usual : HUGE_VAL;
}

}  // namespace standfast
