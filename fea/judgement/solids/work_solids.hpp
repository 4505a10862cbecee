#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "fea/job/job.hpp"
#include "fea/judgement/solids/solid.hpp"

namespace standfast {

/// The work side as solids, stack axes.
struct WorkSolids {
    std::vector<ConvexSolid> piece;     ///< the cut tier and what is one piece with it
    std::vector<ConvexSolid> around;    ///< table, other tiers, side masses
    std::vector<std::string> left_out;  ///< what has no size, in plain words
};

/// Thickness that the table counts with, m: what is under its face is not known to a job.
constexpr double kTableThickness = 0.05;

/// Every tier by its outer hull (tubes and boxes solid, tapers linear), side masses that have a
/// size as boxes along their tier's axes, the table as a disc or a rectangle below z = 0. Tiers
/// joined to the cut one by a "solid" joint are one piece with it.
/// A section given by its figures alone counts as the rectangle with its radii of gyration.
/// @param stack  in the pass's state
/// @throws std::domain_error where a host does not come before its guest
WorkSolids work_solids(const Machine& machine, const Stack& stack, std::size_t cut);

}  // namespace standfast
