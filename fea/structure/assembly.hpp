#pragma once

#include <Eigen/Core>
#include <Eigen/SparseCore>
#include <string>
#include <vector>

#include "fea/structure/model.hpp"

namespace standfast {

/// One named stiffness: K = sum of value x shape over all parameters; with loss factors the
/// dynamic stiffness uses value (1 + i loss_factor).
struct StiffnessParameter {
    std::string name;        ///< "riser.youngs_modulus", "part.joint.tilting_x", ...
    int member = 0;          ///< index into AssembledSystem::members
    double value = 0;        ///< Pa, N/m or N m/rad
    double loss_factor = 0;  ///< -
    Spread stiffness_spread, loss_spread;
    Spread split_spread;                ///< see JointElement
    int split_power = 0;                ///< the value goes with this power of the split: 1, -1 or 0
    Eigen::SparseMatrix<double> shape;  ///< K for value = 1; n x n, symmetric, both halves stored
};

/// One named mass: M = sum of value x shape.
struct MassParameter {
    std::string name;  ///< "riser.density", "part.lump"
    int member = 0;
    double value = 0;  ///< kg/m^3, or 1 for a lump
    Spread spread;
    Eigen::SparseMatrix<double> shape;
};

/// The assembled system. Everything that changes a number (draws, sensitivities, fit, what-if)
/// changes a value in these lists; nobody assembles again for that.
struct AssembledSystem {
    /// Degrees of freedom, six a node: those of node i are 6i (ux uy uz) to 6i + 5 (rx ry rz),
    /// model axes. The solvers find their own elimination order.
    Eigen::Index size = 0;
    std::vector<Eigen::Vector3d>
        nodes;  ///< of the model, then those that assembly added inside runs
    std::vector<Member> members;
    std::vector<StiffnessParameter> stiffness;
    std::vector<MassParameter> mass;
};

/// Assembles a model.
/// A member's runs of one material share one parameter; a further material, or a further lump, of
/// a member gets the name with "_2", "_3" ... behind. A joint gives one parameter per stiffness
/// that is not 0, its loss factor with it: "NAME.lateral_x", ".lateral_y", ".vertical",
/// ".tilting_x", ".tilting_y", ".twisting". Elements a run: least_elements; a taper without middle
/// nodes gets at least 5 and as many as bring its first two frequencies within 1e-3.
/// @throws std::domain_error naming the member where a property is not physical, an attachment
///         names no node, or the two points of a joint do not coincide (1e-9 m + 1e-9 relative)
AssembledSystem assemble(const StructureModel& model);

/// sum of value x shape, N/m etc.; n x n, symmetric.
Eigen::SparseMatrix<double> stiffness_matrix(const AssembledSystem& system);
Eigen::SparseMatrix<double> mass_matrix(const AssembledSystem& system);

/// 3 x n: displacement of a point (model axes) per degree of freedom.
Eigen::SparseMatrix<double, Eigen::RowMajor> point_displacement(const AssembledSystem& system,
                                                                const MaterialPoint& point);

/// 3 points x n: those of several points, one below the other.
Eigen::SparseMatrix<double, Eigen::RowMajor> point_displacements(
    const AssembledSystem& system, const std::vector<MaterialPoint>& points);

/// Mass (kg), centre of mass (m, model axes) of everything in a model.
struct MassProperties {
    double mass = 0;
    Eigen::Vector3d centre = Eigen::Vector3d::Zero();
};
MassProperties mass_properties(const StructureModel& model);

}  // namespace standfast
