#include "fea/judgement/cut_problem.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>
#include <string>
#include <utility>

#include "fea/chatter/banded_limits.hpp"
#include "fea/chatter/zero_order.hpp"
#include "fea/judgement/speed_window.hpp"

namespace standfast {
namespace {

// So few are solved in full wherever they lie.
constexpr std::size_t kFewSpeeds = 24;

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

SampledReceptance samples_at(const CutProblem& problem, double heading) {
    const Pass& pass = problem.pass();
    return relative_samples(*problem.samples, pass.tilt, pass.turn, heading);
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
    return system;
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

StabilityLimits limits_at_heading(const CutProblem& problem, double heading,
                                  const std::vector<SpindleSpeed>& speeds) {
    if (nothing_gives(problem)) return without_limit(problem, speeds);
    std::string fallback;
    if (problem.method == StabilityMethod::periodic) {
        const SpeedWindow offered = offered_window(*problem.job, problem.pass());
        try {
            return banded_limits(delay_system(problem, heading), speeds, problem.searched_to,
                                 {.matters = [&](SpindleSpeed speed) {
                                     return speeds.size() <= kFewSpeeds ||
                                            offered.contains(speed) ||
                                            speed == problem.pass().speed;
                                 }});
        } catch (const std::domain_error& refused) {
            fallback = refused.what();
        }
    }
    StabilityLimits limits = zero_order_limits(rigid_system(problem), samples_at(problem, heading),
                                               speeds, problem.searched_to);
    limits.fallback = std::move(fallback);
    return limits;
}

StabilityLimits ranking_limits(const CutProblem& problem, double heading,
                               const std::vector<SpindleSpeed>& speeds, double depth) {
    if (nothing_gives(problem)) return without_limit(problem, speeds);
    const DelaySystem system = rigid_system(problem);
    AveragedCut cut{.mean_matrix = mean_directional_matrix(system, depth), .pitch = {}};
    for (int tooth = 0; tooth < system.cutter.teeth(); ++tooth) {
        cut.pitch.push_back(tooth_pitch(system.cutter, tooth));
    }
    return averaged_limits(cut, samples_at(problem, heading), speeds, problem.searched_to);
}

std::vector<double> wall_heights(double depth, int count) {
    std::vector<double> heights;
    for (int i = 0; i < count; ++i) heights.push_back(depth * i / (count - 1));
    return heights;
}

double static_wall_error(const CutProblem& problem, double heading, double depth) {
    RigidCut cut = problem.cut;
    cut.depth = depth;
    const Eigen::Matrix3d compliance =
        static_compliance(receptance_at_heading(problem, heading).modal);
    const std::vector<double> error = static_error(compliance, cut, wall_heights(depth, 9));
    return *std::max_element(error.begin(), error.end(),
                             [](double a, double b) { return std::abs(a) < std::abs(b); });
}

double slow_vibration(const CutProblem& problem, double heading, double depth) {
    RigidCut cut = problem.cut;
    cut.depth = depth;
    const Eigen::Matrix3d compliance =
        static_compliance(receptance_at_heading(problem, heading).modal);
    const bool even = cut.cutter.evenly_spaced() && !cut.cutter.runs_out();
    const EdgeSum<Eigen::Vector3d> force = rigid_force_sum(cut);
    const double period = 2 * std::numbers::pi / (even ? cut.cutter.teeth() : 1);
    const int steps = even ? 90 : 360;
    double low = 0, high = 0;
    for (int i = 0; i < steps; ++i) {
        const double y = compliance.row(1).dot(value_at(force, period * i / steps));
        low = i == 0 ? y : std::min(low, y);
        high = i == 0 ? y : std::max(high, y);
    }
    return high - low;
}

}  // namespace standfast
