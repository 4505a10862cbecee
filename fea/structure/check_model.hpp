#pragma once

#include "fea/structure/model.hpp"

namespace standfast {

/// @throws std::domain_error naming the member where an attachment names no node, a stiffness,
///         mass or loss factor is negative or not finite, an inertia is not symmetric, or the two
///         points of a joint do not coincide (1e-9 m + 1e-9 relative); or the node that belongs to
///         no member
void require_sound(const StructureModel& model);

}  // namespace standfast
