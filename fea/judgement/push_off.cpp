#include "fea/judgement/push_off.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "fea/solution/give.hpp"

namespace standfast {
namespace {

/// Angle of tooth 0's tip when its edge passes the wall at height z.
double generating_angle(const RigidCut& cut, double height) {
    const double lag = std::tan(cut.cutter.helix) / (cut.cutter.diameter / 2) * height;
    return (cut.engagement.milling == Milling::up ? 0.0 : std::numbers::pi) + lag;
}

/// Height of the largest error along the wall, m.
double worst_height(const Eigen::Matrix3d& compliance, const RigidCut& cut) {
    const std::vector<double> heights = wall_heights(cut.depth, 33);
    const std::vector<double> error = static_error(compliance, cut, heights);
    const auto worst = std::max_element(
        error.begin(), error.end(), [](double a, double b) { return std::abs(a) < std::abs(b); });
    return heights[static_cast<std::size_t>(worst - error.begin())];
}

/// Contribution of each member to the displacement along `direction` under `force`, both in the
/// side's axes, m.
void add_give(std::vector<GiveShare>& give, const SolvedSide& side, bool tool_side,
              const Eigen::Vector3d& force, const Eigen::Vector3d& direction) {
    if (side.rigid) return;
    if (!side.system || side.system->size == 0) {
        give.push_back({tool_side ? "tool as measured" : "stack as measured", tool_side,
                        direction.dot(side.compliance * force)});
        return;
    }
    const Eigen::Matrix3Xd by_member = give_by_member(*side.system, side.point, force);
    for (Eigen::Index m = 0; m < by_member.cols(); ++m) {
        give.push_back({side.system->members[static_cast<std::size_t>(m)].name, tool_side,
                        direction.dot(by_member.col(m))});
    }
}

/// Gives under one force (tool axes), m, and their sum.
std::vector<GiveShare> gives_under(const CutProblem& problem, const CutReceptance& receptance,
                                   const Eigen::Vector3d& force) {
    std::vector<GiveShare> give;
    const Eigen::Vector3d across = Eigen::Vector3d::UnitY();
    const Eigen::Matrix3d& spindle = receptance.axes_from_spindle;
    const Eigen::Matrix3d& stack = receptance.axes_from_stack;
    add_give(give, *problem.tool, true, spindle * force, spindle * across);
    add_give(give, *problem.work, false, stack * force, stack * across);
    return give;
}

double total_of(const std::vector<GiveShare>& give) {
    double total = 0;
    for (const GiveShare& share : give) total += share.share;
    return total;
}

double largest_of(const std::vector<GiveShare>& give) {
    double largest = 0;
    for (const GiveShare& share : give) largest = std::max(largest, std::abs(share.share));
    return largest;
}

/// Gives to shares; empty where they cancel to nothing.
bool normalise(std::vector<GiveShare>& give) {
    const double total = total_of(give);
    if (std::abs(total) <= 1e-6 * largest_of(give) || total == 0) return false;
    for (GiveShare& share : give) share.share /= total;
    std::stable_sort(give.begin(), give.end(), [](const GiveShare& a, const GiveShare& b) {
        return std::abs(a.share) > std::abs(b.share);
    });
    return true;
}

}  // namespace

StaticResult push_off(const CutProblem& problem, double heading, double depth) {
    RigidCut cut = problem.cut;
    cut.depth = depth;
    const CutReceptance receptance = receptance_at_heading(problem, heading);
    const Eigen::Matrix3d spindle = receptance.axes_from_spindle;
    const Eigen::Matrix3d stack = receptance.axes_from_stack;
    const Eigen::Matrix3d tool = spindle.transpose() * problem.tool->compliance * spindle;
    const Eigen::Matrix3d work = stack.transpose() * problem.work->compliance * stack;
    const Eigen::Matrix3d compliance = tool + work;
    const Eigen::Vector3d mean = mean_force(cut);

    StaticResult result;
    result.tool = tool * mean;
    result.work = -(work * mean);
    result.tool_compliance = tool(1, 1);
    result.work_compliance = work(1, 1);
    result.error = static_wall_error(problem, heading, depth);

    const double height = worst_height(compliance, cut);
    result.give = gives_under(problem, receptance, rigid_force(cut, generating_angle(cut, height)));
    if (!normalise(result.give)) {
        result.give = gives_under(problem, receptance, mean);
        if (!normalise(result.give)) result.give.clear();
    }
    return result;
}

}  // namespace standfast
