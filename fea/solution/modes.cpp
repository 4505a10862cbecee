#include "fea/solution/modes.hpp"

#include <cmath>
#include <limits>

#include "fea/quantities/require.hpp"
#include "fea/solution/eigenpairs.hpp"

namespace standfast {
namespace {

StiffnessAndMass stiffness_and_mass(const AssembledSystem& system) {
    NodePattern pattern(system);
    NodeBlocks<double> stiffness = zero_blocks<double>(pattern);
    NodeBlocks<double> mass = zero_blocks<double>(pattern);
    for (const StiffnessParameter& parameter : system.stiffness) {
        require_not_negative(parameter.value, "modes", parameter.name);
        add_shape(pattern, stiffness, parameter.shape, parameter.value);
    }
    for (const MassParameter& parameter : system.mass) {
        require_not_negative(parameter.value, "modes", parameter.name);
        add_shape(pattern, mass, parameter.shape, parameter.value);
    }
    return {
        .pattern = std::move(pattern), .stiffness = std::move(stiffness), .mass = std::move(mass)};
}

/// Rounding of v^T K v: what a rigid motion is left with.
double energy_noise(const StiffnessAndMass& matrices, const Eigen::VectorXd& shape) {
    double sum = 0;
    for (int node = 0; node < matrices.pattern.node_count(); ++node) {
        const auto& block = matrices.stiffness[static_cast<std::size_t>(node)];
        sum += block.diagonal().dot(shape.segment<6>(6 * Eigen::Index{node}).cwiseAbs2());
    }
    return 64 * std::numeric_limits<double>::epsilon() * sum;
}

/// Strain energy shares and, by them, damping.
void share_out(const AssembledSystem& system, Mode& mode) {
    double total = 0;
    double lost = 0;
    for (const StiffnessParameter& parameter : system.stiffness) {
        const double energy = parameter.value * mode.shape.dot(parameter.shape * mode.shape);
        total += energy;
        lost += parameter.loss_factor * energy;
        mode.strain_share[parameter.member] += energy;
    }
    mode.strain_share /= total;
    mode.damping_ratio = lost / total / 2;
}

/// The greatest entry positive, so that a shape does not turn about for no reason.
void fix_sign(Eigen::VectorXd& shape) {
    Eigen::Index greatest = 0;
    shape.cwiseAbs().maxCoeff(&greatest);
    if (shape[greatest] < 0) shape = -shape;
}

}  // namespace

std::vector<Mode> modes(const AssembledSystem& system, int count) {
    if (count <= 0 || system.size == 0) return {};
    const StiffnessAndMass matrices = stiffness_and_mass(system);
    const Eigen::Index wanted = std::min<Eigen::Index>(count, system.size);
    const Eigenpairs pairs = lowest_eigenpairs(matrices, wanted);

    std::vector<Mode> result;
    for (Eigen::Index i = 0; i < pairs.values.size(); ++i) {
        Mode mode{.frequency = {0},
                  .shape = pairs.vectors.col(i),
                  .strain_share =
                      Eigen::VectorXd::Zero(static_cast<Eigen::Index>(system.members.size()))};
        fix_sign(mode.shape);
        if (pairs.values[i] > energy_noise(matrices, mode.shape)) {
            mode.frequency = {std::sqrt(pairs.values[i])};
            share_out(system, mode);
        }
        result.push_back(std::move(mode));
    }
    return result;
}

}  // namespace standfast
