#pragma once

#include <string_view>

#include "fea/structure/beam.hpp"

namespace standfast {

/// The four uncoupled motions of a straight beam with so many nodes, each in its own degrees of
/// freedom.
template <int Nodes>
struct BeamParts {
    Eigen::Matrix<double, Nodes, Nodes> axial, torsion;  ///< ux of each node; rx of each
    /// Deflection and slope d/dx of each node in turn.
    Eigen::Matrix<double, 2 * Nodes, 2 * Nodes> bending_xy, bending_xz;
};

/// Puts them side by side, ux uy uz rx ry rz of each node in turn; the slope in the x-z plane is
/// -ry.
template <int Nodes>
Eigen::Matrix<double, 6 * Nodes, 6 * Nodes> superpose(const BeamParts<Nodes>& parts);

/// @throws std::domain_error naming the first property that is not positive and finite
void require_beam(const Section& section, const Material& material, double length,
                  std::string_view where);

}  // namespace standfast
