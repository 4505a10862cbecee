#include "fea/judgement/cut/cut_problem.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>
#include <string>
#include <utility>

#include "fea/chatter/limits/edge_limits.hpp"
#include "fea/chatter/limits/zero_order.hpp"
#include "fea/stack/frames.hpp"
#include "fea/stack/stack_model.hpp"

namespace standfast {
namespace {

StabilityLimits without_limit(const CutProblem& problem, const std::vector<SpindleSpeed>& speeds) {
    StabilityLimits limits{
        .method = problem.method, .searched_to = problem.searched_to, .speeds = {}};
    for (const SpindleSpeed speed : speeds) {
        SpeedLimit stable;
        stable.speed = speed;
        limits.speeds.push_back(stable);
    }
    return limits;
}

/// Everything but the receptance.
DelaySystem rigid_system(const CutProblem& problem) {
    return {.receptance = {},
            .cutter = problem.cut.cutter,
            .engagement = problem.cut.engagement,
            .law = problem.cut.law};
}

}  // namespace

bool nothing_gives(const CutProblem& problem) {
    const auto stiff = [](const SolvedSide& side) {
        return side.rigid || (side.modal.terms.empty() && side.modal.residual.isZero());
    };
    return stiff(*problem.tool) && stiff(*problem.work);
}

DelaySystem delay_system(const CutProblem& problem, double heading) {
    DelaySystem system = rigid_system(problem);
    system.receptance = receptance_at_heading(problem, heading).modal;
    const CutLines lines = lines_at_heading(problem, heading);
    if (lines.tool.point.size() > 1 || lines.work.point.size() > 1) {
        system.lines = std::make_shared<const CutLines>(lines);
    }
    return system;
}

CutLines lines_at_heading(const CutProblem& problem, const LineReceptance& tool,
                          const LineReceptance& work, double heading) {
    const Pass& pass = problem.pass();
    const Job& job = *problem.job;
    CutLines lines{.tool = in_axes(tool, tool_axes(0, 0, heading)),
                   .work = in_axes(work, tool_axes(pass.tilt, pass.turn, heading))};
    if (pass.from_top && pass.tier < job.stack.tiers.size()) {
        lines.from_top = hangs_from_top(pass, tier_frames(job.stack)[pass.tier]);
    }
    if (tool.point.size() > 1) lines.lever = problem.tool_chain().cutter.diameter / 2;
    return lines;
}

CutLines lines_at_heading(const CutProblem& problem, double heading) {
    return lines_at_heading(problem, problem.tool->line, problem.work->line, heading);
}

ModalReceptance edge_at_heading(const CutProblem& problem, double heading, double depth) {
    return receptance_of_cut(delay_system(problem, heading), depth);
}

double searched_depth(const Job& job, const Pass& pass, const SolvedSide& tool,
                      const SolvedSide& work) {
    constexpr double kContinued = 1.05;
    const Cutter& cutter = job.tools[pass.tool].cutter;
    double reach = tool.reach > 0 ? tool.reach : stickout_of(cutter);
    if (work.reach > 0) reach = reach > 0 ? std::min(reach, work.reach) : work.reach;
    return reach > 0 ? kContinued * reach : search_depth(cutter.flute_length, cutter.diameter);
}

RigidCut rigid_cut(const Job& job, const Pass& pass, double depth) {
    const Cutter& cutter = job.tools[pass.tool].cutter;
    const Engagement arc = engagement(pass.milling, pass.radial, cutter.diameter);
    return {.cutter = cutter_geometry(cutter),
            .engagement = arc,
            .law = cutting_law(pass.cutting, arc, pass.feed_per_tooth),
            .feed_per_tooth = pass.feed_per_tooth,
            .depth = depth};
}

CutReceptance receptance_at_heading(const CutProblem& problem, double heading) {
    return cut_receptance(*problem.tool, *problem.work, problem.pass().tilt, problem.pass().turn,
                          heading);
}

bool rubs_as_its_group(const CutProblem& problem) {
    // The averaged limit leaves rubbing out as it is.
    return problem.method == StabilityMethod::periodic &&
           problem.pass().cutting.process_damping_of_group && problem.cut.law.process_damping > 0;
}

StabilityLimits limits_at_heading(const CutProblem& problem, double heading,
                                  const std::vector<SpindleSpeed>& speeds, double islands_to) {
    if (nothing_gives(problem)) return without_limit(problem, speeds);
    const DelaySystem system = delay_system(problem, heading);
    std::string fallback;
    if (problem.method == StabilityMethod::periodic) {
        try {
            return edge_limits(system, speeds, problem.searched_to, islands_to);
        } catch (const std::domain_error& refused) {
            fallback = refused.what();
        }
    }
    StabilityLimits limits =
        zero_order_limits(system, problem.frequencies, speeds, problem.searched_to);
    limits.fallback = std::move(fallback);
    return limits;
}

StabilityLimits ranking_limits(const CutProblem& problem, double heading,
                               const std::vector<SpindleSpeed>& speeds, double depth) {
    if (nothing_gives(problem)) return without_limit(problem, speeds);
    const DelaySystem system = delay_system(problem, heading);
    return averaged_limits(averaged_cut(system, depth),
                           sampled_in_the_middle(system, problem.frequencies, depth), speeds,
                           problem.searched_to);
}

std::vector<double> wall_heights(double depth, int count) {
    std::vector<double> heights;
    for (int i = 0; i < count; ++i) heights.push_back(depth * i / (count - 1));
    return heights;
}

double static_wall_error(const CutProblem& problem, double heading, double depth) {
    RigidCut cut = problem.cut;
    cut.depth = depth;
    const std::vector<double> error =
        static_error(edge_at_heading(problem, heading, depth), cut, wall_heights(depth, 9));
    return *std::max_element(error.begin(), error.end(),
                             [](double a, double b) { return std::abs(a) < std::abs(b); });
}

double slow_vibration(const CutProblem& problem, double heading, double depth) {
    RigidCut cut = problem.cut;
    cut.depth = depth;
    const ModalReceptance edge = edge_at_heading(problem, heading, depth);
    const EdgeMatrix compliance = static_compliance(edge);
    const bool even = cut.cutter.evenly_spaced() && !cut.cutter.runs_out();
    EdgeSum<Eigen::Vector3d> force = rigid_force_sum(cut);
    force.basis = edge.basis;
    const double period = 2 * std::numbers::pi / (even ? cut.cutter.teeth() : 1);
    const int steps = even ? 90 : 360;
    Eigen::Array2d low = Eigen::Array2d::Constant(HUGE_VAL), high = -low;
    for (int i = 0; i < steps; ++i) {
        const EdgeVector moved = compliance * value_at(force, period * i / steps);
        const Eigen::Array2d y(displacement_at(edge.basis, moved, 0).y(),
                               displacement_at(edge.basis, moved, depth).y());
        low = low.min(y);
        high = high.max(y);
    }
    return (high - low).maxCoeff();
}

}  // namespace standfast
