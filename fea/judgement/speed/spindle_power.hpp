#pragma once

#include "fea/cutting/forces.hpp"
#include "fea/job/job.hpp"
#include "fea/judgement/answer/report.hpp"

namespace standfast {

/// Mean torque at the cutter over a revolution, N m, of sharp edges:
///
///     T = N / (2 pi) x sum over the edge of r [K_t f_z (cos entry - cos exit) dz
///                                               + K_te (exit - entry) db]
///
/// with r the radius there, smaller round a corner or ball. Its first part is the handbook's power
/// over the spindle speed, a_p a_e v_f k_c / w, as (cos entry - cos exit) R = a_e. Runout moves
/// load from tooth to tooth, not the mean. Source: P = a_p a_e v_f k_c, common to handbooks of
/// machining; the edge part is ours.
double mean_torque(const RigidCut& cut);

/// What a torque asks of the spindle at one speed, beside what the spindle gives there: its torque
/// up to the speed at which that makes its power, the power above. Losses between motor and spindle
/// nose are not counted, nor worn edges: a level begins below the rating for both.
/// @param torque  N m, see mean_torque
SpindlePower spindle_power(const Machine& machine, double torque, SpindleSpeed speed);

}  // namespace standfast
