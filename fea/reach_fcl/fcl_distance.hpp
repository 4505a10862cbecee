#pragma once

#include <memory>

#include "fea/judgement/solids/solid_distance.hpp"

namespace standfast {

/// Distances by FCL's GJK (E. G. Gilbert, D. W. Johnson, S. S. Keerthi, IEEE Journal of Robotics
/// and Automation 4/2 (1988) 193-203) between its own shapes: cylinder, cone, box, hull of points.
///
/// Each answer is proven by two parallel planes with one solid on the far side of either; where
/// FCL's search stopped early (about 1 in 200 between solids square to each other) it is nudged on,
/// and the answer is what is proven. Not more than 0.002 mm too far for solids of a machine's size,
/// seldom more than 0.01 mm too near (tests/fea/reach_fcl); but a frustum counts as a hull of
/// 48-sided polygons around its circles, up to 0.2 % of its radius too near.
std::unique_ptr<SolidDistance> fcl_distance();

}  // namespace standfast
