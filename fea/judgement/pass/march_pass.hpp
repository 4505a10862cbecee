#pragma once

#include "fea/judgement/answer/march_result.hpp"
#include "fea/judgement/cut/cut_problem.hpp"

namespace standfast {

/// Follows a pass in time at one feed heading (rad), speed and depth (m): from rest, at first for
/// as long as the slowest mode takes to ring out to a thousandth (20 to 60 revolutions), then twice
/// as long until it is plain how it ends, at most eight times. "Dies away": over the last sixth,
/// successive periods differ by less than 1 % of the motion.
/// @throws as time_march
MarchResult march_pass(const CutProblem& problem, double heading, SpindleSpeed speed, double depth);

/// The same of any receptance and cut.
MarchResult march_cut(const ModalReceptance& receptance, const RigidCut& cut, SpindleSpeed speed);

}  // namespace standfast
