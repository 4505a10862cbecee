#pragma once

#include <memory>

#include "fea/judgement/solid_distance.hpp"

namespace standfast {

/// Distances by FCL's GJK (E. G. Gilbert, D. W. Johnson, S. S. Keerthi, IEEE Journal of Robotics
/// and Automation 4/2 (1988) 193-203) between its own shapes: cylinder, cone, box, hull of points.
/// A frustum counts as a hull of 48-sided polygons around its circles, at most 0.2 % of its radius
/// too near. Otherwise within 0.001 mm for solids of a machine's size (tests/fea/reach_fcl); hulls
/// exchanged agree within 0.01 mm.
std::unique_ptr<SolidDistance> fcl_distance();

}  // namespace standfast
