#include "fea/structure/beam_parts.hpp"

#include <array>

#include "fea/quantities/require.hpp"

namespace standfast {

Matrix12d superpose(const BeamParts& parts) {
    constexpr std::array<int, 2> axial{0, 6};
    constexpr std::array<int, 2> torsion{3, 9};
    constexpr std::array<int, 4> bending_xy{1, 5, 7, 11};
    constexpr std::array<int, 4> bending_xz{2, 4, 8, 10};
    const Eigen::Vector4d slope_is_minus_ry(1, -1, 1, -1);

    Matrix12d whole = Matrix12d::Zero();
    whole(axial, axial) = parts.axial;
    whole(torsion, torsion) = parts.torsion;
    whole(bending_xy, bending_xy) = parts.bending_xy;
    whole(bending_xz, bending_xz) =
        slope_is_minus_ry.asDiagonal() * parts.bending_xz * slope_is_minus_ry.asDiagonal();
    return whole;
}

void require_beam(const Section& section, const Material& material, double length,
                  std::string_view where) {
    require_positive(length, where, "length");
    require_positive(section.area, where, "area");
    require_positive(section.second_moment_y, where, "second moment about y");
    require_positive(section.second_moment_z, where, "second moment about z");
    require_positive(section.torsion_constant, where, "torsion constant");
    require_positive(section.shear_coefficient_y, where, "shear coefficient along y");
    require_positive(section.shear_coefficient_z, where, "shear coefficient along z");
    require_positive(material.youngs_modulus, where, "Young's modulus");
    require_between(material.poissons_ratio, 0, 0.5, where, "Poisson's ratio");
    require_positive(material.density, where, "density");
}

}  // namespace standfast
