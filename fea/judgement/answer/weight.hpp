#pragma once

#include <Eigen/Core>
#include <cstddef>

#include "fea/job/job.hpp"
#include "fea/judgement/answer/report.hpp"
#include "fea/stack/stack_model.hpp"

namespace standfast {

constexpr double kGravity = 9.80665;  ///< m/s^2, standard acceleration of free fall

/// Mass in kg and its centre, m.
struct PointMass {
    double mass = 0;
    Eigen::Vector3d centre = Eigen::Vector3d::Zero();
};

/// Mass of one tier with its side masses; centre from the tier's foot, tier axes. Tapers exactly
/// (Simpson's rule on the cubic z A(z)).
PointMass tier_mass(const Tier& tier);

/// Everything that stands on the joint under tier `root`: that tier and all that stands on it,
/// directly or not; stack axes.
PointMass carried_mass(const Stack& stack, const std::vector<TierFrame>& frames, std::size_t root);

/// All tiers; stack axes. The table's own mass does not count.
PointMass stack_mass(const Stack& stack, const std::vector<TierFrame>& frames);

/// Unit vector along which gravity pulls, stack axes. Where the table tilts and turns under a fixed
/// vertical spindle it is the tool's own -z, so it swings with the pass; where the head tilts, or
/// the spindle lies ("horizontal"), it stays -z of the stack.
Eigen::Vector3d gravity_direction(const Machine& machine, const Pass& pass);

/// Mass on the table and moment of its weight for one pass, about the machine's tilt axis where the
/// job says how high over the table that is (tilt_axis_above_table), else about the middle of the
/// table's face.
WeightResult judge_weight(const Machine& machine, const Stack& stack, const Pass& pass);

}  // namespace standfast
