#pragma once

#include <Eigen/Core>

#include "fea/structure/beam.hpp"
#include "fea/structure/model.hpp"

namespace standfast {

template <int Nodes>
struct BeamMatrices {
    Eigen::Matrix<double, 6 * Nodes, 6 * Nodes> stiffness, mass;
};

/// Stiffness and consistent mass of a straight Timoshenko beam whose section varies along it.
///
/// Nodes: 2 (start, end) or 3 (start, end, middle); axes, order of the freedoms of each node and
/// units of beam_stiffness. Shapes: see line_matrices.hpp. Both are exact for a beam loaded only at
/// its nodes as far as the quadrature goes (1e-7 where the section's size halves within the
/// element).
///
/// Error of a clamped-free solid round's first three frequencies, % (validation/convergence.cpp;
/// Poisson's ratio 0.22):
///
///     length/diameter    2 nodes, 12 elements      3 nodes, 4 elements
///            1           0.03   0.18   0.67        0.0001   0.012   0.20
///            3           0.006  0.14   0.67        0.0000   0.002   0.06
///           10           0.001  0.02   0.17        0.0000   0.0001  0.004
///
/// @param along  section at a fraction of the element, 0 at its start to 1 at its end
/// @param rotary_inertia  false: without that of bending, to compare with Euler-Bernoulli closed
///                        forms only
/// @throws std::domain_error if the length or a property is not positive and finite
template <int Nodes>
BeamMatrices<Nodes> tapered_beam(const SectionAlong& along, const Material& material, double length,
                                 bool rotary_inertia = true);

}  // namespace standfast
