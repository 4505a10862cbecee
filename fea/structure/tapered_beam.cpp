#include "fea/structure/tapered_beam.hpp"

#include "fea/quantities/require.hpp"
#include "fea/structure/beam_parts.hpp"
#include "fea/structure/line_matrices.hpp"

namespace standfast {
namespace {

struct Lines {
    RodLine axial, torsion;
    BendingLine bending_xy, bending_xz;
};

Lines lines_of(const SectionAlong& along, const Material& material, double length,
               bool rotary_inertia) {
    const double e = material.youngs_modulus;
    const double g = shear_modulus(material);
    const double density = material.density;
    const double rotary = rotary_inertia ? density : 0;
    Lines lines;
    lines.axial.length = lines.torsion.length = length;
    lines.bending_xy.length = lines.bending_xz.length = length;
    for (int i = 0; i < kLinePoints; ++i) {
        const Section section = along(line_points()[i]);
        require_beam(section, material, length, "tapered_beam");
        lines.axial.rigidity[i] = e * section.area;
        lines.axial.inertia[i] = density * section.area;
        lines.torsion.rigidity[i] = g * section.torsion_constant;
        lines.torsion.inertia[i] = density * (section.second_moment_y + section.second_moment_z);
        const auto set = [&](BendingLine& plane, double second_moment, double shear_coefficient) {
            plane.bending[i] = e * second_moment;
            plane.shear[i] = shear_coefficient * g * section.area;
            plane.mass[i] = density * section.area;
            plane.rotary[i] = rotary * second_moment;
        };
        set(lines.bending_xy, section.second_moment_z, section.shear_coefficient_y);
        set(lines.bending_xz, section.second_moment_y, section.shear_coefficient_z);
    }
    return lines;
}

}  // namespace

template <int Nodes>
BeamMatrices<Nodes> tapered_beam(const SectionAlong& along, const Material& material, double length,
                                 bool rotary_inertia) {
    const Lines lines = lines_of(along, material, length, rotary_inertia);
    const auto axial = rod_matrices<Nodes>(lines.axial);
    const auto torsion = rod_matrices<Nodes>(lines.torsion);
    const auto bending_xy = bending_matrices<Nodes>(lines.bending_xy);
    const auto bending_xz = bending_matrices<Nodes>(lines.bending_xz);
    return {.stiffness = superpose<Nodes>({.axial = axial.stiffness,
                                           .torsion = torsion.stiffness,
                                           .bending_xy = bending_xy.stiffness,
                                           .bending_xz = bending_xz.stiffness}),
            .mass = superpose<Nodes>({.axial = axial.mass,
                                      .torsion = torsion.mass,
                                      .bending_xy = bending_xy.mass,
                                      .bending_xz = bending_xz.mass})};
}

template BeamMatrices<2> tapered_beam<2>(const SectionAlong&, const Material&, double, bool);
template BeamMatrices<3> tapered_beam<3>(const SectionAlong&, const Material&, double, bool);

}  // namespace standfast
