#include "fea/studies/trade/trade_tries.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace standfast {
namespace {

/// What a mode gives at its peak, at the point of the line that moves most, m/N.
double peak_of(const LineMode& mode) {
    const double w = mode.frequency.radians_per_second;
    const double most = mode.shape.colwise().squaredNorm().maxCoeff();
    return most / (w * w * 2 * std::max(mode.damping_ratio, 1e-4));
}

struct Leading {
    double peak = 0, spread = 0;
};

/// The mode of a side that gives most, and how its frequency scatters over the draws.
Leading leading_mode(const LineReceptance& nominal, const std::vector<LineReceptance>& drawn) {
    Leading leading;
    std::size_t index = 0;
    for (std::size_t i = 0; i < nominal.modes.size(); ++i) {
        const double peak = peak_of(nominal.modes[i]);
        if (peak <= leading.peak) continue;
        leading.peak = peak;
        index = i;
    }
    double sum = 0, squares = 0, count = 0;
    for (const LineReceptance& line : drawn) {
        if (index >= line.modes.size()) continue;
        const double ln = std::log(line.modes[index].frequency.radians_per_second);
        sum += ln;
        squares += ln * ln;
        ++count;
    }
    if (count > 1) {
        leading.spread = std::sqrt(std::max(0.0, squares / count - std::pow(sum / count, 2)));
    }
    return leading;
}

}  // namespace

JobDraws draw_option(const std::vector<TradePassCase>& cases, const std::vector<TradedTools>& tools,
                     const std::vector<std::size_t>& stickout, TradeTries& tries,
                     DrawnSides& works) {
    Job job = *cases.front().job;
    JobSides sides;
    for (std::size_t p = 0; p < cases.size(); ++p) {
        const TradedTool& tool = tools[job.passes[p].tool][stickout[p]];
        job.tools[job.passes[p].tool] = tool.chain;
        sides.tool.push_back(tool.side);
        sides.work.push_back(cases[p].work);
    }
    std::vector<std::size_t> passes(cases.size());
    std::iota(passes.begin(), passes.end(), std::size_t{0});
    return draw_job(job, passes, sides, tries.drawn, &tries.tools, &works);
}

CutProblem with_draws(CutProblem problem, const JobDraws& drawn) {
    problem.draws = drawn.draws;
    problem.tool_draws = drawn.tool[problem.pass_index];
    problem.work_draws = drawn.work[problem.pass_index];
    return problem;
}

double frequency_spread(const TradePassCase& of, const TradedTool& tool, const JobDraws& drawn) {
    const Leading of_tool = leading_mode(tool.side->line, *drawn.tool[of.pass]);
    const Leading of_work = leading_mode(of.work->line, *drawn.work[of.pass]);
    return (of_tool.peak >= of_work.peak ? of_tool : of_work).spread;
}

}  // namespace standfast
