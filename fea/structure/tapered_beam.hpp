#pragma once

#include "fea/structure/beam.hpp"
#include "fea/structure/model.hpp"

namespace standfast {

/// Stiffness matrix of a straight two-node beam whose section varies along it.
///
/// Axes, order and units of beam_stiffness. The flexibility of the cantilever (node 1 held) is
/// integrated over the true section, 6 Gauss points, and inverted: exact for a beam loaded only at
/// its nodes as far as the quadrature goes (1e-5 where the section's size halves within the
/// element).
/// @param along  section at a fraction of the element, 0 at node 1 to 1 at node 2
/// @throws std::domain_error if the length or a property is not positive and finite
/// Source: unit-load theorem; textbook.
Matrix12d tapered_beam_stiffness(const SectionAlong& along, const Material& material,
                                 double length);

/// Consistent mass matrix of the same beam: the shape functions of beam_mass with the shear
/// parameter of the middle section, and the true section under the integral. First frequencies
/// converge with the square of the element length.
Matrix12d tapered_beam_mass(const SectionAlong& along, const Material& material, double length,
                            bool rotary_inertia = true);

}  // namespace standfast
