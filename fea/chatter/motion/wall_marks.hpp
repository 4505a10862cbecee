#pragma once

#include <vector>

#include "fea/cutting/cutter_geometry.hpp"

namespace standfast {

/// Peak to valley (m) of the wall along the feed, at one height, that teeth leave which reach
/// differently far. Tooth j leaves an arc of the cutter's radius R about x_j, its share of the feed
/// of a revolution; of all arcs the deepest remains:
///
///     wall(x) = max over j, and all revolutions, of [ reach_j - (x - x_j)^2/(2 R) ]
///
/// Equal teeth that reach alike leave feed marks of f^2/(8 R). A tooth that falls short of its
/// neighbours' arcs leaves nothing, and their marks are wider for it.
/// @param reach           m, of each tooth beyond the nominal wall, > 0: deeper
/// @param feed_per_tooth  m, mean; 0: no marks
/// @throws std::domain_error unless there is one reach a tooth
/// Source: geometry of arcs that cross; feed marks f^2/(8 R) are common knowledge.
double wall_waviness(const std::vector<double>& reach, const CutterGeometry& cutter,
                     double feed_per_tooth);

}  // namespace standfast
