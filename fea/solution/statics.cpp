#include "fea/solution/statics.hpp"

#include <stdexcept>
#include <string>

#include "fea/quantities/require.hpp"
#include "fea/solution/node_factor.hpp"

namespace standfast {
namespace {

// A held structure of beams leaves pivots above 1e-9 of the diagonal they began as (a tip against
// its own element); a loose one leaves rounding, about 1e-15.
constexpr double kLoosePivot = 1e-12;

NodeBlocks<double> stiffness_blocks(const AssembledSystem& system, const NodePattern& pattern) {
    NodeBlocks<double> blocks = zero_blocks<double>(pattern);
    for (const StiffnessParameter& parameter : system.stiffness) {
        require_not_negative(parameter.value, "StaticSolution", parameter.name);
        add_shape(pattern, blocks, parameter.shape, parameter.value);
    }
    return blocks;
}

/// The motion that costs least: under equal loads with every diagonal raised a little, a loose
/// motion outgrows the elastic ones by the inverse of that little.
Eigen::MatrixXd loosest_motion(const NodePattern& pattern, NodeBlocks<double> blocks) {
    constexpr double kLittle = 1e-9;
    Eigen::MatrixXd motion(6 * pattern.node_count(), 1);
    for (int node = 0; node < pattern.node_count(); ++node) {
        auto& block = blocks[static_cast<std::size_t>(node)];
        for (int i = 0; i < 6; ++i) {
            if (block(i, i) == 0) block(i, i) = std::numeric_limits<double>::min();
            motion(6 * node + i, 0) = block(i, i);
            block(i, i) *= 1 + kLittle;
        }
    }
    factorise(pattern, blocks);
    solve_in_place(pattern, blocks, motion);
    return motion;
}

double greatest_extent(const std::vector<Eigen::Vector3d>& nodes) {
    double extent = 0;
    for (const auto& node : nodes) extent = std::max(extent, (node - nodes.front()).norm());
    return extent > 0 ? extent : 1;
}

/// How far the nodes that a parameter holds on to move, rotations taken over the given length.
double movement(const Eigen::SparseMatrix<double>& shape, const Eigen::MatrixXd& motion,
                double length) {
    double most = 0;
    for (Eigen::Index column = 0; column < shape.outerSize(); ++column) {
        if (!Eigen::SparseMatrix<double>::InnerIterator(shape, column)) continue;
        const Eigen::Index node = column - column % 6;
        const double moved =
            motion.block<3, 1>(node, 0).norm() + length * motion.block<3, 1>(node + 3, 0).norm();
        most = std::max(most, moved);
    }
    return most;
}

std::string loosest_member(const AssembledSystem& system, const Eigen::MatrixXd& motion) {
    const double length = greatest_extent(system.nodes);
    double most = 0;
    std::string name = "the structure";
    const auto look_at = [&](const auto& parameters) {
        for (const auto& parameter : parameters) {
            const double moved = movement(parameter.shape, motion, length);
            if (moved > most * (1 + 1e-6)) {
                most = moved;
                name = system.members[static_cast<std::size_t>(parameter.member)].name;
            }
        }
    };
    look_at(system.stiffness);
    look_at(system.mass);
    return name;
}

}  // namespace

struct StaticSolution::Factor {
    NodePattern pattern;
    NodeBlocks<double> blocks;
};

StaticSolution::StaticSolution(const AssembledSystem& system)
    : factor_(std::make_unique<Factor>(Factor{NodePattern(system), {}})) {
    NodeBlocks<double> stiffness = stiffness_blocks(system, factor_->pattern);
    factor_->blocks = stiffness;
    const WeakestPivot weakest = factorise(factor_->pattern, factor_->blocks);
    if (weakest.ratio > kLoosePivot && weakest.negative == 0) return;
    const Eigen::MatrixXd motion = loosest_motion(factor_->pattern, std::move(stiffness));
    throw std::domain_error("statics: \"" + loosest_member(system, motion) +
                            "\" can move without force: something must hold it");
}

StaticSolution::~StaticSolution() = default;
StaticSolution::StaticSolution(StaticSolution&&) noexcept = default;
StaticSolution& StaticSolution::operator=(StaticSolution&&) noexcept = default;

Eigen::MatrixXd StaticSolution::displacements(const Eigen::MatrixXd& loads) const {
    const double rows = 6.0 * factor_->pattern.node_count();
    require_between(static_cast<double>(loads.rows()), rows, rows, "StaticSolution",
                    "number of load rows");
    Eigen::MatrixXd result = loads;
    solve_in_place(factor_->pattern, factor_->blocks, result);
    return result;
}

Eigen::Matrix3d point_compliance(const AssembledSystem& system, const MaterialPoint& point) {
    const Eigen::SparseMatrix<double, Eigen::RowMajor> at = point_displacement(system, point);
    const Eigen::MatrixXd loads = Eigen::MatrixXd(at).transpose();
    const Eigen::Matrix3d compliance = at * StaticSolution(system).displacements(loads);
    return (compliance + compliance.transpose()) / 2;
}

}  // namespace standfast
