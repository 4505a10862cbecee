#include "fea/structure/beam.hpp"

#include <array>
#include <cmath>

#include "fea/quantities/require.hpp"
#include "fea/structure/beam_parts.hpp"
#include "fea/structure/tapered_beam.hpp"

namespace standfast {
namespace {

/// v1, theta1, v2, theta2 of one bending plane; Friedman & Kosmatka's matrix.
Eigen::Matrix4d bending_stiffness(double bending, double shear, double length) {
    const double phi = 12 * bending / (shear * length * length);
    const double l = length;
    Eigen::Matrix4d k;
    k << 12, 6 * l, -12, 6 * l,                               //
        6 * l, (4 + phi) * l * l, -6 * l, (2 - phi) * l * l,  //
        -12, -6 * l, 12, -6 * l,                              //
        6 * l, (2 - phi) * l * l, -6 * l, (4 + phi) * l * l;
    return bending / (l * l * l * (1 + phi)) * k;
}

Eigen::Matrix2d rod_stiffness(double rigidity, double length) {
    Eigen::Matrix2d k;
    k << 1, -1, -1, 1;
    return rigidity / length * k;
}

}  // namespace

Matrix12d beam_stiffness(const Section& section, const Material& material, double length) {
    require_beam(section, material, length, "beam_stiffness");
    const double e = material.youngs_modulus;
    const double g = shear_modulus(material);
    const double shear_y = section.shear_coefficient_y * g * section.area;
    const double shear_z = section.shear_coefficient_z * g * section.area;
    return superpose<2>(
        {.axial = rod_stiffness(e * section.area, length),
         .torsion = rod_stiffness(g * section.torsion_constant, length),
         .bending_xy = bending_stiffness(e * section.second_moment_z, shear_y, length),
         .bending_xz = bending_stiffness(e * section.second_moment_y, shear_z, length)});
}

Matrix12d beam_mass(const Section& section, const Material& material, double length,
                    bool rotary_inertia) {
    require_beam(section, material, length, "beam_mass");
    // The integrands are polynomials, which the quadrature of the tapered element integrates
    // exactly.
    return tapered_beam<2>([&section](double) { return section; }, material, length, rotary_inertia)
        .mass;
}

}  // namespace standfast
