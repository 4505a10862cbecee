#include "fea/structure/beam_parts.hpp"

#include <array>

#include "fea/quantities/require.hpp"

namespace standfast {

namespace {

/// Numbers of the freedoms `first`, `second` of every node.
template <int Nodes>
std::array<int, 2 * Nodes> of_each_node(int first, int second) {
    std::array<int, 2 * Nodes> freedoms{};
    for (std::size_t node = 0; node < Nodes; ++node) {
        freedoms[2 * node] = 6 * static_cast<int>(node) + first;
        freedoms[2 * node + 1] = 6 * static_cast<int>(node) + second;
    }
    return freedoms;
}

}  // namespace

template <int Nodes>
Eigen::Matrix<double, 6 * Nodes, 6 * Nodes> superpose(const BeamParts<Nodes>& parts) {
    const auto axial = Eigen::seqN(0, Nodes, 6);
    const auto torsion = Eigen::seqN(3, Nodes, 6);
    const auto bending_xy = of_each_node<Nodes>(1, 5);
    const auto bending_xz = of_each_node<Nodes>(2, 4);
    const auto slope_is_minus_ry =
        Eigen::Vector2d(1, -1).replicate<Nodes, 1>().asDiagonal().toDenseMatrix();

    Eigen::Matrix<double, 6 * Nodes, 6 * Nodes> whole;
    whole.setZero();
    whole(axial, axial) = parts.axial;
    whole(torsion, torsion) = parts.torsion;
    whole(bending_xy, bending_xy) = parts.bending_xy;
    whole(bending_xz, bending_xz) = slope_is_minus_ry * parts.bending_xz * slope_is_minus_ry;
    return whole;
}

template Eigen::Matrix<double, 12, 12> superpose(const BeamParts<2>&);
template Eigen::Matrix<double, 18, 18> superpose(const BeamParts<3>&);

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
