#pragma once

#include <Eigen/Core>
#include <functional>
#include <string>
#include <vector>

#include "fea/quantities/quantities.hpp"
#include "fea/solution/line_receptance.hpp"
#include "fea/solution/modal_receptance.hpp"
#include "fea/solution/modes.hpp"
#include "fea/structure/assembly.hpp"

namespace standfast {

/// An assembled system on a few shapes that follow it when its parameters move, so that a draw of
/// the parameters costs one small eigenproblem instead of a large one.
///
/// Shapes: the kept modes, the static answers to unit loads at the point, and what both become
/// when each spread group alone is at its 10 % and its 90 % value, and to the inertia of each mass
/// that may vary in the kept modes; made K-orthonormal, the insignificant ones dropped. Exact at
/// the nominal values; measured in tests at all groups off together: first frequencies and static
/// compliance within 0.5 %.
struct ReducedSystem {
    /// All stiffness parameters that share their spread groups, at nominal values.
    struct Part {
        Spread stiffness_spread, loss_spread, split_spread;
        int split_power = 0;
        Eigen::MatrixXd stiffness;  ///< r x r, N/m in reduced coordinates
        Eigen::MatrixXd loss;       ///< r x r, sum of loss factor x stiffness
    };
    /// All masses that share a spread group.
    struct MassPart {
        Spread spread;
        Eigen::MatrixXd mass;  ///< r x r
    };
    std::vector<Part> parts;
    std::vector<MassPart> mass_parts;
    Eigen::MatrixXd at_points;         ///< 3 points x r, displacement of the point, or of a line's
    std::vector<double> line = {0.0};  ///< m, where the points stand along it
    int kept_modes = 0;                ///< modes that the nominal receptance kept
};

/// @param modes  nominal, lowest first; those are what receptance_of_draw keeps
/// @throws std::domain_error if the stiffness is singular
ReducedSystem reduced_system(const AssembledSystem& system, const std::vector<Mode>& modes,
                             const MaterialPoint& point);

/// The same for the points of a line: shapes that answer unit loads at both of its ends.
/// @param point  m along the line
/// @param at     3 points x n, displacement of the points per freedom
ReducedSystem reduced_system(const AssembledSystem& system, const std::vector<Mode>& modes,
                             const std::vector<double>& point,
                             const Eigen::SparseMatrix<double, Eigen::RowMajor>& at);

/// Factor on every parameter of a spread group; 1 = nominal.
using GroupFactor = std::function<double(const std::string& group)>;

/// Receptance at the point with each part's stiffness, loss and mass multiplied by its groups'
/// factors: as many modes as nominally, damping by strain energy, the rest as static compliance.
ModalReceptance receptance_of_draw(const ReducedSystem& system, const GroupFactor& factor);
LineReceptance line_of_draw(const ReducedSystem& system, const GroupFactor& factor);

/// All different spread groups of a system with a factor above 1, in order of appearance.
std::vector<Spread> spread_groups(const AssembledSystem& system);

}  // namespace standfast
