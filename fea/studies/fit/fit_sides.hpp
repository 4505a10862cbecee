#pragma once

#include <Eigen/Core>
#include <optional>
#include <vector>

#include "fea/job/job.hpp"
#include "fea/solution/modes.hpp"
#include "fea/structure/assembly.hpp"
#include "fea/studies/fit/fit_unknowns.hpp"

namespace standfast {

/// A structure that measurements look at: the stack, the stack in the state of a pass, or a tool.
struct FitSide {
    std::optional<std::size_t> tool;  ///< none: the stack
    std::optional<std::size_t> pass;  ///< the stack as this pass finds it
    AssembledSystem system;
    FitMoves moves;
    MaterialPoint base;  ///< the table's or the spindle's node; ground where that is rigid
    StructureModel structure;
};

/// Logarithms of the factors: unknowns first, then nuisances.
struct FitPoint {
    Eigen::VectorXd unknown, nuisance;
};

/// The side with its parameters multiplied by the factors.
AssembledSystem moved_system(const FitSide& side, const FitPoint& point);

/// The stack with nodes where it is measured, or a tool; its joints go into the unknowns.
/// @throws std::domain_error where the side is rigid or known by measured modes, naming it
FitSide stack_side(const Job& job, const std::vector<MeasuredPlace>& places, FitUnknowns& unknowns);
FitSide tool_side(const Job& job, std::size_t tool, FitUnknowns& unknowns);
/// The stack in the state of a pass, with a node at its cut; `cut` receives the place.
FitSide pass_side(const Job& job, std::size_t pass, FitUnknowns& unknowns, MaterialPoint& cut);

/// The point of a side at a place; on a tool the nearest node of the chain with a rigid arm.
/// @throws std::domain_error where the place is off the tier or the tool
MaterialPoint point_of(const FitSide& side, const Job& job, const MeasuredPlace& place);

/// 3 x n: what an indicator at the point sees per degree of freedom, with the rigid motion of what
/// its base stands on taken off.
Eigen::MatrixXd seen_motion(const FitSide& side, const MaterialPoint& point, bool against_base);

}  // namespace standfast
