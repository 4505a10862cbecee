#include "fea/solution/receptance.hpp"

#include <Eigen/LU>
#include <Eigen/SparseLU>
#include <cmath>
#include <stdexcept>

#include "fea/quantities/require.hpp"
#include "fea/solution/node_factor.hpp"
#include "fea/solution/statics.hpp"
#include "fea/structure/element_parts.hpp"

namespace standfast {
namespace {

using Complex = std::complex<double>;
using Matrix6cd = Eigen::Matrix<Complex, 6, 6>;

// Below this share of the diagonal it began as, a pivot has lost too many digits to go on with.
constexpr double kWeakPivot = 1e-9;

constexpr Complex i{0, 1};

}  // namespace

struct DirectReceptance::Workspace {
    NodePattern pattern;
    int node = kGround;
    Eigen::Matrix<double, 6, 3> unit_loads = Eigen::Matrix<double, 6, 3>::Zero();
    NodeBlocks<Complex> stiffness;  ///< K (1 + i eta)
    NodeBlocks<double> mass;
    Eigen::SparseMatrix<Complex> whole_stiffness;  ///< the same, for the solver with pivoting
    Eigen::SparseMatrix<double> whole_mass;

    Workspace(const AssembledSystem& system, const MaterialPoint& point);
    NodeBlocks<Complex> dynamic_stiffness(double omega) const;
    Eigen::Matrix3cd with_pivoting(double omega) const;
};

DirectReceptance::Workspace::Workspace(const AssembledSystem& system, const MaterialPoint& point)
    : pattern(system, point.node), node(point.node) {
    require_between(point.node, kGround, static_cast<double>(system.nodes.size()) - 1,
                    "DirectReceptance", "node");
    unit_loads = rigid_arm(point.arm).topRows<3>().transpose();
    stiffness = zero_blocks<Complex>(pattern);
    mass = zero_blocks<double>(pattern);
    whole_stiffness.resize(system.size, system.size);
    for (const StiffnessParameter& parameter : system.stiffness) {
        require_not_negative(parameter.value, "DirectReceptance", parameter.name);
        require_not_negative(parameter.loss_factor, "DirectReceptance", "loss factor");
        const Complex value = parameter.value * (1.0 + i * parameter.loss_factor);
        add_shape(pattern, stiffness, parameter.shape, value);
        whole_stiffness += parameter.shape.cast<Complex>() * value;
    }
    for (const MassParameter& parameter : system.mass) {
        add_shape(pattern, mass, parameter.shape, parameter.value);
    }
    whole_mass = mass_matrix(system);
}

NodeBlocks<Complex> DirectReceptance::Workspace::dynamic_stiffness(double omega) const {
    NodeBlocks<Complex> blocks(stiffness.size());
    const double square = omega * omega;
    for (std::size_t slot = 0; slot < blocks.size(); ++slot) {
        blocks[slot] = stiffness[slot];
        blocks[slot].real() -= square * mass[slot];
    }
    return blocks;
}

/// Where elimination in order meets a part that resonates alone and undamped.
Eigen::Matrix3cd DirectReceptance::Workspace::with_pivoting(double omega) const {
    const Eigen::SparseMatrix<Complex> matrix =
        whole_stiffness - (whole_mass * (omega * omega)).cast<Complex>();
    const Eigen::SparseLU<Eigen::SparseMatrix<Complex>> solver(matrix);
    Eigen::MatrixXcd loads = Eigen::MatrixXcd::Zero(matrix.rows(), 3);
    loads.middleRows<6>(6 * Eigen::Index{node}) = unit_loads.cast<Complex>();
    if (solver.info() != Eigen::Success) {
        throw std::domain_error("receptance: infinite at this frequency, as nothing damps it");
    }
    const Eigen::MatrixXcd motion = solver.solve(loads);
    return unit_loads.transpose() * motion.middleRows<6>(6 * Eigen::Index{node});
}

DirectReceptance::DirectReceptance(const AssembledSystem& system, const MaterialPoint& point)
    : workspace_(std::make_unique<Workspace>(system, point)) {}
DirectReceptance::~DirectReceptance() = default;
DirectReceptance::DirectReceptance(DirectReceptance&&) noexcept = default;
DirectReceptance& DirectReceptance::operator=(DirectReceptance&&) noexcept = default;

Eigen::Matrix3cd DirectReceptance::at(AngularFrequency frequency) const {
    const double omega = frequency.radians_per_second;
    require_not_negative(omega, "DirectReceptance", "frequency");
    const Workspace& work = *workspace_;
    if (work.node == kGround) return Eigen::Matrix3cd::Zero();

    // The point's node stands last in the order, so what is left of its block is the dynamic
    // stiffness of the whole as felt there: no substitution is needed.
    NodeBlocks<Complex> blocks = work.dynamic_stiffness(omega);
    const WeakestPivot weakest = factorise(work.pattern, blocks, work.pattern.node_count() - 1);
    Eigen::Matrix3cd receptance;
    if (weakest.ratio > kWeakPivot) {
        Matrix6cd felt = blocks[static_cast<std::size_t>(work.node)];
        felt.triangularView<Eigen::StrictlyUpper>() = felt.transpose();
        receptance = work.unit_loads.transpose() *
                     Eigen::PartialPivLU<Matrix6cd>(felt).solve(work.unit_loads.cast<Complex>());
    } else {
        receptance = work.with_pivoting(omega);
    }
    if (!receptance.allFinite()) {
        throw std::domain_error("receptance: infinite at this frequency, as nothing damps it");
    }
    return (receptance + receptance.transpose()) / 2;
}

ModalReceptance modal_receptance(const AssembledSystem& system, const std::vector<Mode>& modes,
                                 const MaterialPoint& point) {
    return modal_receptance(system, modes, point, point_compliance(system, point));
}

ModalReceptance modal_receptance(const AssembledSystem& system, const std::vector<Mode>& modes,
                                 const MaterialPoint& point, const Eigen::Matrix3d& compliance) {
    const Eigen::SparseMatrix<double, Eigen::RowMajor> at = point_displacement(system, point);
    ModalReceptance result{.terms = {}, .residual = compliance};
    for (const Mode& mode : modes) {
        require_positive(mode.frequency.radians_per_second, "modal_receptance",
                         "frequency of a mode");
        const Eigen::Vector3d shape = at * mode.shape;
        const double square = std::pow(mode.frequency.radians_per_second, 2);
        result.residual -= shape * shape.transpose() / square;
        result.terms.push_back(
            {.frequency = mode.frequency, .damping_ratio = mode.damping_ratio, .shape = shape});
    }
    return result;
}

}  // namespace standfast
