#pragma once

#include <optional>

#include "fea/job/job.hpp"
#include "fea/judgement/holding/joint_hold.hpp"

namespace standfast {

/// Which figures of a hold: careful ones, which decide, or those that usually hold.
enum class HoldFigures { careful, usual };

/// Friction that is counted: the job's, else careful the kind's, usually half as much again (clean,
/// dry faces; between smooth and biting jaws a manual that refers to VDI 3106 has 0.07 to 0.45).
double counted_friction(const Joint& joint, HoldFigures figures);
/// The part's seat between jaws: where the job says so; usually also where it does not say.
bool counts_seat(const Joint& joint, HoldFigures figures);

/// How the joint under a tier holds, from its clamp force or preload; none where neither is given
/// (a clamp that was assumed for stiffness does not count) or the joint is solid. Torque becomes
/// preload at the low end of the nut factor's scatter. The contact of a preloaded face is the
/// smaller of the two faces that meet.
/// @throws std::domain_error naming the joint if a force, friction or size is not physical
std::optional<Hold> hold_under(const Stack& stack, const Tier& tier,
                               HoldFigures figures = HoldFigures::careful);

/// Section that carries the load just above the joint: the neck of a dovetail, else the tier's own
/// section at its foot. None for rigid bodies and materials without a known strength.
std::optional<FootSection> foot_section(const Tier& tier);

/// True where the pass leaves less standing than the joint under the cut tier needs: a tier (in the
/// pass's state) narrower than the dovetail's neck or the width between the jaws, or a path that
/// runs inside the contact at or below the joint. A solid joint cannot be cut free this way.
bool frees_part(const Tier& tier, const Pass& pass);

}  // namespace standfast
