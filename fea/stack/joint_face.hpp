#pragma once

#include "fea/job/tier.hpp"
#include "fea/stack/joint_stiffness.hpp"

namespace standfast {

/// The face on which a tier stands: its host's top, its sizes along the tier's own axes where the
/// two are square to each other. On a host's side, askew, or on the table the host's face counts
/// as large as the tier's. The table's material is grey iron (E 110 GPa, nu 0.26).
JointFace lower_face(const Stack& stack, std::size_t tier);

/// A tier's own foot; for a rigid body without sizes, the face that it stands on.
JointFace upper_face(const Stack& stack, std::size_t tier);

}  // namespace standfast
