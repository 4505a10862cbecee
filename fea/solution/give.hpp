#pragma once

#include <Eigen/Core>
#include <vector>

#include "fea/structure/assembly.hpp"

namespace standfast {

/// Whose compliance the static displacement is.
///
/// Share of each member in the displacement of `point` along `direction` under `force` at the
/// same point, by mutual strain energy with a unit load along `direction`:
///     share_m = (u_F^T K_m u_1) / (direction . u_F)
/// Sum 1; a member's share may be negative where it moves the point the other way.
/// @param direction  unit vector, model axes
/// @returns one share per member of the system; all 0 where the displacement is 0
/// Source: unit-load (Mohr) theorem; textbook.
Eigen::VectorXd give_shares(const AssembledSystem& system, const MaterialPoint& point,
                            const Eigen::Vector3d& force, const Eigen::Vector3d& direction);

/// Displacement of `point` under `force` there, by member; 3 x members, sums to the displacement.
Eigen::Matrix3Xd give_by_member(const AssembledSystem& system, const MaterialPoint& point,
                                const Eigen::Vector3d& force);

/// The displacement w . u of some freedoms under loads on any, by member; sums to it.
/// @param loads      n, N and N m
/// @param direction  n, the weights w of the freedoms in what is asked
Eigen::VectorXd give_by_member(const AssembledSystem& system, const Eigen::VectorXd& loads,
                               const Eigen::VectorXd& direction);

}  // namespace standfast
