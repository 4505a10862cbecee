#include "fea/studies/trade/trade_reach.hpp"

#include <algorithm>
#include <cmath>

#include "fea/job/edits/apply_edits.hpp"
#include "fea/judgement/reach/reach.hpp"

namespace standfast {
namespace {

// So much shorter than what clears: then something is too near.
constexpr double kShorter = 0.5e-3;

Job with_stickout_of_pass(const Job& job, std::size_t pass, double stickout) {
    return edited(job, Stickout{job.tools[job.passes[pass].tool].name, stickout});
}

std::string fault_text(const ReachResult& reach) {
    switch (reach.fault) {
        case ReachFault::tilt:
            return "the pass tilts further than the machine";
        case ReachFault::travel:
            return "the machine's travel";
        case ReachFault::tool_change:
            return "the height for the tool change";
        case ReachFault::swing:
            return "the machine's swing";
        default:
            break;
    }
    return reach.tool_solid.empty() ? "" : reach.tool_solid + " against " + reach.work_solid;
}

bool clears(const Job& job, std::size_t pass, double stickout, const SolidDistance& distance,
            const ReachOptions& options) {
    const Job other = with_stickout_of_pass(job, pass, stickout);
    return reach_of_pass(other, other.passes[pass], distance, options).clear;
}

}  // namespace

TradeReachOf reach_by_distance(const SolidDistance& distance) {
    return [&distance](const Job& job, std::size_t index, const std::vector<double>& stickouts) {
        const Pass& pass = job.passes[index];
        const ReachOptions options = reach_options(job);
        const ReachResult now = reach_of_pass(job, pass, distance, options);
        TradeReach reach;
        reach.judged = now.judged;
        reach.why_not = now.why_not;
        if (!now.judged) return reach;
        reach.least_stickout = least_stickout(job, pass, distance, options);
        for (const double stickout : stickouts) {
            reach.clear.push_back(clears(job, index, stickout, distance, options));
        }
        const ToolChain& tool = job.tools[pass.tool];
        const double shortest = std::max(stickout_range(tool, pass).least, 1e-3);
        const double looked_at = reach.least_stickout
                                     ? std::max(*reach.least_stickout - kShorter, shortest)
                                     : now.most_stickout.value_or(stickout_of(tool.cutter));
        const Job other = with_stickout_of_pass(job, index, looked_at);
        const ReachResult then = reach_of_pass(other, pass, distance, options);
        if (then.judged && !then.clear) reach.nearest = fault_text(then);
        return reach;
    };
}

}  // namespace standfast
