#include "fea/solution/give.hpp"

#include "fea/quantities/require.hpp"
#include "fea/solution/statics.hpp"

namespace standfast {

Eigen::Matrix3Xd give_by_member(const AssembledSystem& system, const MaterialPoint& point,
                                const Eigen::Vector3d& force) {
    require_finite(force.norm(), "give", "force");
    const Eigen::SparseMatrix<double, Eigen::RowMajor> at = point_displacement(system, point);
    const Eigen::MatrixXd under_unit_loads =
        StaticSolution(system).displacements(Eigen::MatrixXd(at).transpose());
    const Eigen::VectorXd under_force = under_unit_loads * force;

    Eigen::Matrix3Xd give =
        Eigen::Matrix3Xd::Zero(3, static_cast<Eigen::Index>(system.members.size()));
    for (const StiffnessParameter& parameter : system.stiffness) {
        give.col(parameter.member) +=
            parameter.value * under_unit_loads.transpose() * (parameter.shape * under_force);
    }
    return give;
}

Eigen::VectorXd give_by_member(const AssembledSystem& system, const Eigen::VectorXd& loads,
                               const Eigen::VectorXd& direction) {
    Eigen::MatrixXd both(system.size, 2);
    both << loads, direction;
    const Eigen::MatrixXd moved = StaticSolution(system).displacements(both);
    Eigen::VectorXd give = Eigen::VectorXd::Zero(static_cast<Eigen::Index>(system.members.size()));
    for (const StiffnessParameter& parameter : system.stiffness) {
        give[parameter.member] +=
            parameter.value * moved.col(1).dot(parameter.shape * moved.col(0));
    }
    return give;
}

Eigen::VectorXd give_shares(const AssembledSystem& system, const MaterialPoint& point,
                            const Eigen::Vector3d& force, const Eigen::Vector3d& direction) {
    require_between(direction.norm(), 1 - 1e-9, 1 + 1e-9, "give_shares", "length of the direction");
    const Eigen::VectorXd give = give_by_member(system, point, force).transpose() * direction;
    const double whole = give.sum();
    if (whole == 0) return Eigen::VectorXd::Zero(give.size());
    return give / whole;
}

}  // namespace standfast
