#pragma once

#include <Eigen/Core>
#include <array>
#include <vector>

#include "fea/structure/model.hpp"

namespace standfast {

using Matrix6d = Eigen::Matrix<double, 6, 6>;

/// Motion of the point at the end of a rigid arm by the motion of its node:
///     u_point = u + r x arm,   r_point = r
Matrix6d rigid_arm(const Eigen::Vector3d& arm);

/// One element's matrix between its nodes, model axes; six rows a node. A node may be kGround, and
/// those that an element does not have are.
struct ElementMatrix {
    std::array<int, 3> nodes{kGround, kGround, kGround};
    Eigen::Matrix<double, 18, 18> matrix = Eigen::Matrix<double, 18, 18>::Zero();
};

/// A beam run cut into elements: its nodes from start to end (those inside appended to `nodes`),
/// and per element K for a Young's modulus of 1 Pa and M for a density of 1 kg/m^3.
struct MeshedRun {
    std::vector<ElementMatrix> stiffness, mass;
};
/// @throws std::domain_error if a section or material is not physical, the run has no length, or
///         section_y lies along it
MeshedRun mesh_run(const BeamRun& run, std::vector<Eigen::Vector3d>& nodes);

/// K of a joint's component 0..2 (translation along joint x, y, z) or 3..5 (rotation about them)
/// for a stiffness of 1: the outer product of the relative motion it resists.
ElementMatrix joint_component(const JointElement& joint, int component);

/// M of a rigid body at the end of its arm; the other nodes stay kGround.
ElementMatrix lump_mass(const Lump& lump);

/// Place of an attachment's point, model axes.
Eigen::Vector3d place_of(const Attachment& attachment, const std::vector<Eigen::Vector3d>& nodes);

}  // namespace standfast
