#pragma once

#include "fea/structure/model.hpp"

namespace standfast {

/// Sets how many elements each run gets, and whether they have nodes in their middles, such that
/// the first three bending frequencies of each member, clamped at one end and free at the other,
/// come within 1e-3 of exact beam theory, steps and tapers included. Worst of 200 random members
/// 1 to 10 diameters long: 6.2e-4 (validation/convergence.cpp).
///
/// Elements are shared out by the waves that fit: a bending wave is as long as the square root of
/// the radius of gyration at the place, up to where shear governs. A slender member gets 3 elements
/// in all, a stubby one up to 7; a run at least one. Runs so short that the error stays below a
/// tenth of that do without middle nodes.
/// @throws std::domain_error if a section is not physical
void choose_elements(StructureModel& model);

}  // namespace standfast
