#pragma once

#include <array>
#include <cstddef>
#include <vector>

#include "fea/cutting/edge_sum.hpp"
#include "fea/cutting/forces.hpp"

namespace standfast {

/// The force of the rigid cut, of equal teeth, in the coordinates of one edge: its harmonics of the
/// tooth passing, its course over a tooth period, and where edges pass the wall. Linear in the
/// coefficients of the force law, so that cuts that differ in these alone share two of them.
struct ForceCourse {
    static constexpr std::size_t samples = 256;  ///< over a tooth period, the first at angle 0

    std::vector<ComplexEdgeVector> harmonic;  ///< N, of all teeth, from the mean on
    std::vector<EdgeVector> course;           ///< N, `samples` of them
    std::vector<EdgeVector> passage;          ///< N, while an edge passes the wall, by height
};

/// rad, of tooth 0's tip, at which its edge passes the wall at a height (m from the tip).
double wall_passage(const RigidCut& cut, double height);

/// @param cut        of equal teeth without runout; depth > 0
/// @param basis      that of the receptance which the force will meet
/// @param harmonics  how many, the mean included
/// @param heights    m from the tip, of the passages
ForceCourse force_course(const RigidCut& cut, const EdgeBasis& basis, std::size_t harmonics,
                         const std::vector<double>& heights);

/// a A + b B, of the same basis, harmonics and heights.
ForceCourse combined(double a, const ForceCourse& of_a, double b, const ForceCourse& of_b);

}  // namespace standfast
