#pragma once

#include <optional>
#include <vector>

#include "fea/chatter/motion/surface_error.hpp"
#include "fea/chatter/motion/wall_motion.hpp"

namespace standfast {

/// The stable motion with push-off fed back into the radial depth: a cutter that is pushed off the
/// wall takes less of it, one that is pulled in takes more. The radial depth is the programmed one
/// plus the mean error along the heights, found by secant steps to 1e-3 of the error or 1 nm; it
/// is held between 0.1 % of the programmed depth and the diameter. A slot has nothing to feed
/// back: there it is stable_motion. The force law stays that of the nominal cut.
/// @param cut      its engagement is replaced
/// @param radial   m, programmed
/// @param heights  m, at least one
/// @throws as stable_motion and engagement; std::domain_error without heights
/// Source: own statement of the balance between push-off and chip; no published figure.
StableMotion fed_back_motion(const ModalReceptance& receptance, const RigidCut& cut, double radial,
                             SpindleSpeed speed, const std::vector<double>& heights);

/// The same of the wall alone, for many spindle speeds, with the accuracy of WallMotions; none
/// where no radial depth balances its push-off within 40 steps. Where teeth differ it is the
/// nominal motion changed by what the feedback changes for equal teeth.
/// @param nominal  WallMotions of the same cut and heights at this speed
std::optional<WallMotion> fed_back_wall(const ModalReceptance& receptance, const RigidCut& cut,
                                        double radial, SpindleSpeed speed,
                                        const std::vector<double>& heights,
                                        const WallMotion& nominal);

}  // namespace standfast
