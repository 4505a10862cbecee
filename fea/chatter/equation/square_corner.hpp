#pragma once

#include "fea/cutting/cutter_geometry.hpp"

namespace standfast {

/// The cutter with a corner radius that is small beside the depth of cut taken as square: one under
/// three tenths of the depth. A corner couples the axial direction in, which costs several times as
/// much; of tries with a corner of three tenths to an eighth of the depth, taken as square, at most
/// two in 64 change sides (measured on a tower with a 10 mm cutter).
/// @param depth  m, > 0; depth_for_corner() where it is what is looked for
CutterGeometry with_small_corner_square(CutterGeometry cutter, double depth);

/// A third of the diameter, m: a depth to judge the corner by before a depth is known.
double depth_for_corner(const CutterGeometry& cutter);

}  // namespace standfast
