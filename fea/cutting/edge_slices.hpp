#pragma once

#include <vector>

#include "fea/cutting/cutter_geometry.hpp"

namespace standfast {

/// A stretch of the cutting edge with one lead angle k between the tool axis and the normal of
/// its envelope: 90 deg along a square corner, running from 0 at the tip of a ball nose.
struct EdgeSlice {
    double from = 0, to = 0;      ///< m above the tip
    double lead_sine = 1;         ///< sin k
    double lead_cosine = 0;       ///< cos k
    double width_per_height = 1;  ///< chip width db per height dz: 1/sin k, averaged over the slice
};

/// The edge up to `depth`: one slice for a square corner; for a corner radius or a ball the arc is
/// cut into equal steps of k, each at its middle, and the straight part above is one more slice.
/// Force and directional matrix then converge as 1/slices^2; 24 slices on a quarter arc leave
/// 2e-4 of the force (measured in the tests).
/// @param depth        m, >= 0
/// @param arc_slices   slices on the arc in use
/// @throws std::domain_error if the depth is negative or the corner radius exceeds D/2
/// Source: the edge geometry of general end mills, Y. Altintas and P. Lee, CIRP Annals 45/1 (1996)
///         59-64 (from memory).
std::vector<EdgeSlice> edge_slices(const CutterGeometry& cutter, double depth, int arc_slices = 24);

/// Lag of the edge per height, kappa = tan(helix)/R, rad/m; negative: the edge leads.
double lag_per_height(const CutterGeometry& cutter);

}  // namespace standfast
