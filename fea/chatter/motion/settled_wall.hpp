#pragma once

#include <vector>

#include "fea/chatter/motion/wall_motion.hpp"

namespace standfast {

/// The wall of a stable cut whose teeth differ (runout, unequal pitch), by following it in time
/// until it settles. A tooth then finds what others left of their vibration and may miss where
/// chips are thin, so that no linear sum will do: in light cuts chips are as thin as the vibration
/// is large. Steps: 24 in the fastest vibration that bears on the wall (modes of less than 1 % of
/// the compliance answer statically) and 40 in the cut; until two revolutions differ by less than
/// 1 % of the motion, or 160 revolutions. Good to about 2 % of the motion (measured in tests
/// against finer steps).
/// @param heights  m, from the tip, each in [0, depth]
/// @throws as time_march
WallMotion settled_wall(const ModalReceptance& receptance, const RigidCut& cut, SpindleSpeed speed,
                        const std::vector<double>& heights);

}  // namespace standfast
