#pragma once

#include <optional>

#include "fea/job/job.hpp"
#include "fea/judgement/joint_hold.hpp"

namespace standfast {

/// How the joint under a tier holds, from its clamp force or preload; none where neither is given
/// (a clamp that was assumed for stiffness does not count) or the joint is solid. Torque becomes
/// preload at the low end of the nut factor's scatter. The contact of a preloaded face is the
/// smaller of the two faces that meet.
/// @throws std::domain_error naming the joint if a force, friction or size is not physical
std::optional<Hold> hold_under(const Stack& stack, const Tier& tier);

/// Section that carries the load just above the joint: the neck of a dovetail, else the tier's own
/// section at its foot. None for rigid bodies and materials without a known strength.
std::optional<FootSection> foot_section(const Tier& tier);

/// True where the pass leaves less standing than the joint under the cut tier needs: a tier (in the
/// pass's state) narrower than the dovetail's neck or the width between the jaws, or a path that
/// runs inside the contact at or below the joint. A solid joint cannot be cut free this way.
bool frees_part(const Tier& tier, const Pass& pass);

}  // namespace standfast
