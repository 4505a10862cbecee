#pragma once

#include <string_view>

#include "fea/structure/beam.hpp"

namespace standfast {

/// The four uncoupled motions of a straight beam, each in its own degrees of freedom.
struct BeamParts {
    Eigen::Matrix2d axial, torsion;          ///< ux1 ux2; rx1 rx2
    Eigen::Matrix4d bending_xy, bending_xz;  ///< deflection and slope d/dx at node 1, then node 2
};

/// Puts them side by side in the order of beam_stiffness; the slope in the x-z plane is -ry.
Matrix12d superpose(const BeamParts& parts);

/// @throws std::domain_error naming the first property that is not positive and finite
void require_beam(const Section& section, const Material& material, double length,
                  std::string_view where);

}  // namespace standfast
