#pragma once

#include <Eigen/Core>

#include "fea/studies/fit/fit_observations.hpp"

namespace standfast {

/// What the model says of every observation at a point: in the observation's unit, NaN where it
/// has no answer (then the point is no candidate). Modes are followed by their shapes from the
/// pairing in FitProblem::modes.
Eigen::VectorXd predicted(const FitProblem& problem, const FitPoint& at);

/// How far predictions are off: difference for motion and walls, difference of logarithms else.
Eigen::VectorXd misses(const FitProblem& problem, const Eigen::VectorXd& prediction);

/// Pairs each measured mode of a side with one of the model at the point, no mode twice, by
/// frequency, by how much the place moves in it, and by dynamic stiffness where that was measured;
/// never by order. Stores the shapes. @returns whether a pairing changed
bool pair_modes(FitProblem& problem, const FitPoint& at, double frequency_deviation);

}  // namespace standfast
