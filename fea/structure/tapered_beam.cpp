#include "fea/structure/tapered_beam.hpp"

#include <array>

#include "fea/quantities/require.hpp"
#include "fea/structure/beam_parts.hpp"

namespace standfast {
namespace {

struct GaussPoint {
    double fraction;  ///< of the element
    double weight;
};

/// Gauss-Legendre, 6 points on [0, 1]: exact to degree 11.
/// Source: Abramowitz & Stegun, table 25.4 (from memory; moments checked in tests).
std::array<GaussPoint, 6> gauss_points() {
    constexpr std::array<double, 3> place{0.2386191860831969, 0.6612093864662645,
                                          0.9324695142031521};
    constexpr std::array<double, 3> weight{0.4679139345726910, 0.3607615730481386,
                                           0.1713244923791704};
    std::array<GaussPoint, 6> points{};
    for (std::size_t i = 0; i < 3; ++i) {
        points[2 * i] = {.fraction = (1 - place[i]) / 2, .weight = weight[i] / 2};
        points[2 * i + 1] = {.fraction = (1 + place[i]) / 2, .weight = weight[i] / 2};
    }
    return points;
}

/// Compliance of the cantilever's end in one plane: deflection, slope per force, moment.
struct PlaneFlexibility {
    Eigen::Matrix2d matrix = Eigen::Matrix2d::Zero();

    void add(double bending, double shear, double arm, double step) {
        matrix(0, 0) += step * (arm * arm / bending + 1 / shear);
        matrix(0, 1) += step * arm / bending;
        matrix(1, 1) += step / bending;
    }

    /// With equilibrium for the forces at node 1, the stiffness of all four freedoms.
    Eigen::Matrix4d stiffness(double length) const {
        const double determinant = matrix(0, 0) * matrix(1, 1) - matrix(0, 1) * matrix(0, 1);
        Eigen::Matrix2d inverse;
        inverse << matrix(1, 1), -matrix(0, 1), -matrix(0, 1), matrix(0, 0);
        Eigen::Matrix<double, 2, 4> relative;
        relative << -1, -length, 1, 0, 0, -1, 0, 1;
        return relative.transpose() * (inverse / determinant) * relative;
    }
};

Eigen::Matrix2d rod_stiffness(double flexibility) {
    Eigen::Matrix2d k;
    k << 1, -1, -1, 1;
    return k / flexibility;
}

/// Deflection and rotation of the section at a fraction s by v1, theta1, v2, theta2.
struct BendingShapes {
    Eigen::RowVector4d deflection, rotation;
};

BendingShapes bending_shapes(double s, double phi, double length) {
    const double d = 1 + phi;
    const double l = length;
    BendingShapes shapes;
    shapes.deflection << (2 * s * s * s - 3 * s * s - phi * s + 1 + phi) / d,
        l * (s * s * s - (2 + phi / 2) * s * s + (1 + phi / 2) * s) / d,
        -(2 * s * s * s - 3 * s * s - phi * s) / d,
        l * (s * s * s - (1 - phi / 2) * s * s - phi / 2 * s) / d;
    shapes.rotation << 6 * (s * s - s) / (l * d), (3 * s * s - (4 + phi) * s + 1 + phi) / d,
        -6 * (s * s - s) / (l * d), (3 * s * s - (2 - phi) * s) / d;
    return shapes;
}

void add_bending_mass(Eigen::Matrix4d& mass, const BendingShapes& shapes, double per_length,
                      double rotary) {
    mass += per_length * shapes.deflection.transpose() * shapes.deflection +
            rotary * shapes.rotation.transpose() * shapes.rotation;
}

}  // namespace

Matrix12d tapered_beam_stiffness(const SectionAlong& along, const Material& material,
                                 double length) {
    double axial = 0;
    double torsion = 0;
    PlaneFlexibility xy;
    PlaneFlexibility xz;
    const double e = material.youngs_modulus;
    const double g = shear_modulus(material);
    for (const GaussPoint& point : gauss_points()) {
        const Section section = along(point.fraction);
        require_beam(section, material, length, "tapered_beam_stiffness");
        const double step = point.weight * length;
        const double arm = (1 - point.fraction) * length;
        axial += step / (e * section.area);
        torsion += step / (g * section.torsion_constant);
        xy.add(e * section.second_moment_z, section.shear_coefficient_y * g * section.area, arm,
               step);
        xz.add(e * section.second_moment_y, section.shear_coefficient_z * g * section.area, arm,
               step);
    }
    return superpose({.axial = rod_stiffness(axial),
                      .torsion = rod_stiffness(torsion),
                      .bending_xy = xy.stiffness(length),
                      .bending_xz = xz.stiffness(length)});
}

Matrix12d tapered_beam_mass(const SectionAlong& along, const Material& material, double length,
                            bool rotary_inertia) {
    BeamParts parts{.axial = Eigen::Matrix2d::Zero(),
                    .torsion = Eigen::Matrix2d::Zero(),
                    .bending_xy = Eigen::Matrix4d::Zero(),
                    .bending_xz = Eigen::Matrix4d::Zero()};
    const Section middle = along(0.5);
    require_beam(middle, material, length, "tapered_beam_mass");
    const double stretch = 12 * 2 * (1 + material.poissons_ratio) / (middle.area * length * length);
    const double phi_y = stretch * middle.second_moment_z / middle.shear_coefficient_y;
    const double phi_z = stretch * middle.second_moment_y / middle.shear_coefficient_z;
    for (const GaussPoint& point : gauss_points()) {
        const double s = point.fraction;
        const Section section = along(s);
        require_beam(section, material, length, "tapered_beam_mass");
        const double density = point.weight * length * material.density;
        const double rotary = rotary_inertia ? density : 0;
        const Eigen::RowVector2d linear(1 - s, s);
        parts.axial += density * section.area * linear.transpose() * linear;
        parts.torsion += density * (section.second_moment_y + section.second_moment_z) *
                         linear.transpose() * linear;
        add_bending_mass(parts.bending_xy, bending_shapes(s, phi_y, length), density * section.area,
                         rotary * section.second_moment_z);
        add_bending_mass(parts.bending_xz, bending_shapes(s, phi_z, length), density * section.area,
                         rotary * section.second_moment_y);
    }
    return superpose(parts);
}

}  // namespace standfast
