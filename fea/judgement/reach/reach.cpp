#include "fea/judgement/reach/reach.hpp"

#include <algorithm>

#include <utility>

#include "fea/judgement/reach/machine_reach.hpp"
#include "fea/judgement/reach/reach_scene.hpp"

namespace standfast {
namespace {

void take_gap(ReachResult& result, const Gap& gap) {
    result.distance = gap.distance;
    result.clearance = gap.clearance;
    result.tool_solid = gap.tool;
    result.work_solid = gap.work;
    result.rubs = gap.rubs;
    if (!gap.clear()) result.fault = gap.distance > 0 ? ReachFault::too_near : ReachFault::hits;
}

void take_shortage(ReachResult& result, const MachineShort& lacking) {
    result.needed = lacking.needed;
    result.available_from = lacking.available_from;
    result.available_to = lacking.available_to;
    // What is hit matters more than where the machine ends.
    if (result.fault != ReachFault::hits) result.fault = lacking.fault;
}

}  // namespace

ReachOptions reach_options(const Job& job) { return {.clearance = job.limits.clearance}; }

std::string why_reach_is_unknown(const Job& job, const Pass& pass, const ReachOptions& options) {
    const ToolChain& tool = job.tools.at(pass.tool);
    if (job.stack.tiers.empty()) return "the stack is not described by tiers";
    if (pass.path.empty()) return "no place of the cut given";
    if (tool.holder.empty()) return "no holder given";
    if (tool.holder_assumed && !options.trust_assumed_holder) {
        return "no holder given, a typical one stands in";
    }
    if (!(stickout_of(tool.cutter) > 0)) return "no stickout given";
    return {};
}

ReachResult reach_of_pass(const Job& job, const Pass& pass, const SolidDistance& distance,
                          const ReachOptions& options) {
    ReachResult result;
    result.clearance = options.clearance;
    result.tilt_needed = std::abs(pass.tilt);
    result.tilt_available = job.machine.tilt_max;
    const ToolChain& tool = job.tools.at(pass.tool);
    result.most_stickout = stickout_range(tool, pass).most;
    result.why_not = why_reach_is_unknown(job, pass, options);
    if (!result.why_not.empty()) return result;

    const double stickout = stickout_of(tool.cutter);
    const ReachScene scene = reach_scene(job, pass);
    take_gap(result, nearest_gap(scene, tool_solids(job.machine, tool, stickout), distance,
                                 options.clearance, Search::whole));
    if (const auto lacking = machine_short_of(job, pass, stickout, options.clearance)) {
        take_shortage(result, *lacking);
    }
    result.judged = true;
    result.clear = result.fault == ReachFault::none;
    result.left_out = scene.left_out;
    if (!(job.machine.spindle.nose_diameter > 0)) {
        result.left_out.emplace_back("the spindle nose, whose size is not given");
    }
    return result;
}

StickoutRange stickout_range(const ToolChain& tool, const Pass& pass) {
    const Cutter& cutter = tool.cutter;
    double stays_out = cutter.flute_length + cutter.neck_length;
    if (!cutter.segments.empty()) {
        stays_out = 0;
        for (std::size_t i = 1; i < cutter.segments.size(); ++i) {
            stays_out += cutter.segments[i].length;
        }
        stays_out = std::max(stays_out, cutter.flute_length);
    }
    StickoutRange range{.least = std::max(stays_out, pass.axial.value_or(0)), .most = {}};
    if (cutter.overall) range.most = *cutter.overall - tool.grip_least.value_or(tool.grip_length);
    return range;
}

}  // namespace standfast
