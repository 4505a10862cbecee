#pragma once

#include <optional>

#include "cli/job/read/table_reader.hpp"
#include "fea/job/tier.hpp"

namespace standfast {

/// lump = { mass, centre, inertia = { xx, yy, zz, xy, xz, yz } }: a rigid body instead of a beam.
/// The inertia must be one that a body can have: no principal moment negative or larger than the
/// sum of the other two.
std::optional<RigidBody> read_lump(TableReader& tier);

}  // namespace standfast
