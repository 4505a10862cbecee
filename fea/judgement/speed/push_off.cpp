#include "fea/judgement/speed/push_off.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "fea/solution/give.hpp"
#include "fea/structure/assembly.hpp"

namespace standfast {
namespace {

/// Angle of tooth 0's tip when its edge passes the wall at height z.
double generating_angle(const RigidCut& cut, double height) {
    const double lag = std::tan(cut.cutter.helix) / (cut.cutter.diameter / 2) * height;
    return (cut.engagement.milling == Milling::up ? 0.0 : std::numbers::pi) + lag;
}

/// Height of the largest error along the wall, m.
double worst_height(const ModalReceptance& edge, const RigidCut& cut) {
    const std::vector<double> heights = wall_heights(cut.depth, 33);
    const std::vector<double> error = static_error(edge, cut, heights);
    const auto worst = std::max_element(
        error.begin(), error.end(), [](double a, double b) { return std::abs(a) < std::abs(b); });
    return heights[static_cast<std::size_t>(worst - error.begin())];
}

/// Forces on the points of a side's line, 3 points, that do on it what forces on the edge do; and
/// the weights of the points in the displacement at a height.
struct LineLoads {
    Eigen::VectorXd force, weight;
};

/// @param forces  on the edge in the basis's coordinates, tool axes
/// @param across  direction of the displacement asked for, tool axes
LineLoads line_loads(const LineReceptance& line, const Eigen::Matrix3d& axes, double offset,
                     const EdgeBasis& basis, const EdgeVector& forces, double height,
                     const Eigen::Vector3d& across) {
    const auto points = static_cast<Eigen::Index>(line.point.size());
    LineLoads loads{Eigen::VectorXd::Zero(3 * points), Eigen::VectorXd::Zero(3 * points)};
    const auto add = [&](Eigen::VectorXd& to, double z, const Eigen::Vector3d& what) {
        const Eigen::VectorXd weights = line_weights(line.point, offset + z);
        for (Eigen::Index k = 0; k < points; ++k) {
            to.segment<3>(3 * k) += weights[k] * (axes * what);
        }
    };
    for (int a = 0; a < basis.heights(); ++a) {
        add(loads.force, basis.height[static_cast<std::size_t>(a)], forces.segment<3>(3 * a));
    }
    add(loads.weight, height, across);
    return loads;
}

/// Contribution of each member to the displacement asked for, m.
void add_give(std::vector<GiveShare>& give, const SolvedSide& side, bool tool_side,
              const LineLoads& loads) {
    if (side.rigid) return;
    if (!side.system || side.system->size == 0) {
        const EdgeMatrix compliance = static_compliance(side.modal);
        give.push_back({tool_side ? "tool as measured" : "stack as measured", tool_side,
                        loads.weight.dot(compliance * loads.force)});
        return;
    }
    const auto rows = point_displacements(*side.system, side.line_points);
    const Eigen::VectorXd by_member = give_by_member(*side.system, rows.transpose() * loads.force,
                                                     rows.transpose() * loads.weight);
    for (Eigen::Index m = 0; m < by_member.size(); ++m) {
        give.push_back(
            {side.system->members[static_cast<std::size_t>(m)].name, tool_side, by_member[m]});
    }
}

/// Gives at a height under forces along the edge (tool axes), m.
std::vector<GiveShare> gives_under(const CutProblem& problem, const CutReceptance& axes,
                                   const CutLines& lines, const ModalReceptance& edge, double depth,
                                   const EdgeVector& forces, double height) {
    std::vector<GiveShare> give;
    const Eigen::Vector3d across = Eigen::Vector3d::UnitY();
    const double offset = lines.from_top ? -depth : 0;
    add_give(give, *problem.tool, true,
             line_loads(problem.tool->line, axes.axes_from_spindle, 0, edge.basis, forces, height,
                        across));
    add_give(give, *problem.work, false,
             line_loads(problem.work->line, axes.axes_from_stack, offset, edge.basis, forces,
                        height, across));
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
    const CutReceptance axes = receptance_at_heading(problem, heading);
    const Eigen::Matrix3d& spindle = axes.axes_from_spindle;
    const Eigen::Matrix3d& stack = axes.axes_from_stack;
    const CutLines lines = lines_at_heading(problem, heading);
    const ModalReceptance edge = edge_at_heading(problem, heading, depth);
    EdgeSum<Eigen::Vector3d> force = rigid_force_sum(cut);
    force.basis = edge.basis;
    const EdgeVector mean = harmonic(force, 0).real();

    StaticResult result;
    result.height = worst_height(edge, cut);
    const ModalReceptance tool = along_edge(lines.tool, edge.basis, 0, depth, true);
    const ModalReceptance work =
        along_edge(lines.work, edge.basis, lines.from_top ? -depth : 0, depth, false);
    result.tool = displacement_at(edge.basis, static_compliance(tool) * mean, result.height);
    result.work = -displacement_at(edge.basis, static_compliance(work) * mean, result.height);
    result.tool_compliance =
        (spindle.transpose() * problem.tool->compliance * spindle).eval()(1, 1);
    result.work_compliance = (stack.transpose() * problem.work->compliance * stack).eval()(1, 1);
    const std::vector<double> profile = static_error(edge, cut, {0.0, depth / 2, depth});
    std::copy(profile.begin(), profile.end(), result.profile.begin());
    result.error = static_wall_error(problem, heading, depth);
    const auto softness = [&](const CutLines& of, double z) {
        return static_compliance(receptance_at_height(of, depth, z))(1, 1);
    };
    CutLines work_alone = lines;
    work_alone.tool = rigid_line({});
    result.work_at_top = softness(work_alone, depth);
    result.work_at_tip = softness(work_alone, 0);

    const EdgeVector there = value_at(force, generating_angle(cut, result.height));
    result.give = gives_under(problem, axes, lines, edge, depth, there, result.height);
    if (!normalise(result.give)) {
        result.give = gives_under(problem, axes, lines, edge, depth, mean, result.height);
        if (!normalise(result.give)) result.give.clear();
    }
    return result;
}

}  // namespace standfast
