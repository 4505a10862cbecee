#pragma once

#include <Eigen/Core>
#include <vector>

#include "fea/job/joint.hpp"
#include "fea/job/shape.hpp"
#include "fea/stack/common_area.hpp"

namespace standfast {

/// Where the screws of a joint stand, m, in the face. With `circle` given: evenly on it, four on
/// its diagonals. Else, common practice without a source: 1.25 diameters inside the edge of the
/// smaller face (its corners for four in a block), in the middle of the wall of a tube or box. One
/// screw stands in the middle, two along the longer side.
std::vector<Eigen::Vector2d> screw_places(const Screws& screws, const SectionShape& lower,
                                          const SectionShape& upper);

/// The face pressed together under each screw: a ring of 3.2 thread diameters (head 1.5 d, flange
/// 1.5 d, half angle 30 deg) about a hole of 1.1, less what lies beside either body's material;
/// no wider than the distance to the next screw, so that none is counted twice.
/// Source: pressure cones as textbooks of bolted joints have them, from memory.
std::vector<AreaMoments> screw_cones(const Screws& screws, const SectionShape& lower,
                                     const SectionShape& upper);

}  // namespace standfast
