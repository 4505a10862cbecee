#pragma once

#include <Eigen/Core>
#include <vector>

#include "fea/cutting/forces.hpp"

namespace standfast {

/// A slice of the edge at one angle of the march's grid, where it is in the cut.
struct EngagedSlice {
    int slice = 0;
    double height = 0;  ///< m, of the slice, times the part of the step in which it cuts
    double sine = 0, cosine = 0;
    double axial = 0;  ///< by how much a rise of the tool thickens the chip: -cot of the lead
    Eigen::Vector3d edge, per_offset;  ///< N/m, and N/m^2 of chip; force = height (edge + chip ...)
};

/// What an edge meets at every angle of a grid, found once for a march.
struct MarchTable {
    std::vector<double> middle;         ///< m, of each slice, from the tip
    std::vector<EngagedSlice> engaged;  ///< grid angle by grid angle
    std::vector<int> first;             ///< of each grid angle; one more at the end
};

/// @param steps   of the grid, a revolution
/// @param slices  of the edge up to the depth; arcs get one a slice of theirs at least
MarchTable march_table(const RigidCut& cut, int steps, int slices);

}  // namespace standfast
