#pragma once

#include <optional>
#include <vector>

#include "fea/judgement/answer/report.hpp"
#include "fea/judgement/cut/cut_problem.hpp"
#include "fea/judgement/speed/at_speed.hpp"

namespace standfast {

/// What stable cuts leave on the wall over the spindle speeds, as programmed and with push-off fed
/// back into the radial depth. Where the error is less than 0.2 % of the radial depth, what it
/// feeds back changes the error by about as small a share of itself, and the two are taken as
/// equal.
SurfaceErrorMap surface_map(const CutProblem& problem, double heading,
                            const std::vector<AtSpeed>& at, const SlowAnswer& slow);

/// The wall at one speed with push-off fed back, at the heights of `slow` and its depth; none where
/// it does not settle.
/// @param nominal  the motion without, at these heights
std::optional<WallMotion> fed_back_at(const CutProblem& problem, double heading,
                                      const SlowAnswer& slow, SpindleSpeed speed,
                                      const WallMotion& nominal);

}  // namespace standfast
