#include "fea/structure/section.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "fea/quantities/require.hpp"

namespace standfast {
namespace {

using std::numbers::pi;

void require_poissons_ratio(double poissons_ratio, const char* where) {
    require_between(poissons_ratio, 0, 0.5, where, "Poisson's ratio");
}

Section round_section(double outer, double inner, double shear_coefficient) {
    const double second_moment = pi / 64 * (std::pow(outer, 4) - std::pow(inner, 4));
    return {.area = pi / 4 * (outer * outer - inner * inner),
            .second_moment_y = second_moment,
            .second_moment_z = second_moment,
            .torsion_constant = 2 * second_moment,
            .shear_coefficient_y = shear_coefficient,
            .shear_coefficient_z = shear_coefficient};
}

double rectangle_shear_coefficient(double nu) { return 10 * (1 + nu) / (12 + 11 * nu); }

double rectangle_torsion_constant(double long_side, double short_side) {
    const double ratio = short_side / long_side;
    // Terms fall with n^-5: the first left out is below 1e-8 of the sum.
    double series = 0;
    for (int n = 1; n < 40; n += 2) series += std::tanh(n * pi / (2 * ratio)) / std::pow(n, 5);
    return long_side * std::pow(short_side, 3) * (1.0 / 3 - 64 / std::pow(pi, 5) * ratio * series);
}

/// Cowper's thin-walled box, one wall thickness; sizes of the middle line.
double thin_box_shear_coefficient(double along_shear, double across, double nu) {
    const double m = across / along_shear;
    const double bending = 12 + 72 * m + 150 * m * m + 90 * m * m * m;
    const double lateral = 11 + 66 * m + 135 * m * m + 90 * m * m * m;
    const double flanges = 10 * m * m * ((3 + nu) * m + 3 * m * m);
    return 10 * (1 + nu) * std::pow(1 + 3 * m, 2) / (bending + nu * lateral + flanges);
}

}  // namespace

Section solid_round(double diameter, double poissons_ratio) {
    require_positive(diameter, "solid_round", "diameter");
    require_poissons_ratio(poissons_ratio, "solid_round");
    const double nu = poissons_ratio;
    return round_section(diameter, 0, 6 * (1 + nu) / (7 + 6 * nu));
}

Section round_tube(double outer_diameter, double inner_diameter, double poissons_ratio) {
    require_positive(outer_diameter, "round_tube", "outer diameter");
    require_not_negative(inner_diameter, "round_tube", "inner diameter");
    require_positive(outer_diameter - inner_diameter, "round_tube", "outer less inner diameter");
    require_poissons_ratio(poissons_ratio, "round_tube");
    const double nu = poissons_ratio;
    const double m = inner_diameter / outer_diameter;
    const double sum = std::pow(1 + m * m, 2);
    const double shear = 6 * (1 + nu) * sum / ((7 + 6 * nu) * sum + (20 + 12 * nu) * m * m);
    return round_section(outer_diameter, inner_diameter, shear);
}

Section rectangle(double size_y, double size_z, double poissons_ratio) {
    require_positive(size_y, "rectangle", "size along y");
    require_positive(size_z, "rectangle", "size along z");
    require_poissons_ratio(poissons_ratio, "rectangle");
    const double shear = rectangle_shear_coefficient(poissons_ratio);
    return {.area = size_y * size_z,
            .second_moment_y = size_y * std::pow(size_z, 3) / 12,
            .second_moment_z = size_z * std::pow(size_y, 3) / 12,
            .torsion_constant =
                rectangle_torsion_constant(std::max(size_y, size_z), std::min(size_y, size_z)),
            .shear_coefficient_y = shear,
            .shear_coefficient_z = shear};
}

Section rectangular_box(double size_y, double size_z, double wall, double poissons_ratio) {
    require_positive(size_y, "rectangular_box", "size along y");
    require_positive(size_z, "rectangular_box", "size along z");
    require_positive(wall, "rectangular_box", "wall");
    require_positive(std::min(size_y, size_z) - 2 * wall, "rectangular_box",
                     "clear width between the walls");
    require_poissons_ratio(poissons_ratio, "rectangular_box");
    const double inner_y = size_y - 2 * wall;
    const double inner_z = size_z - 2 * wall;
    const double middle_y = size_y - wall;
    const double middle_z = size_z - wall;
    return {.area = size_y * size_z - inner_y * inner_z,
            .second_moment_y = (size_y * std::pow(size_z, 3) - inner_y * std::pow(inner_z, 3)) / 12,
            .second_moment_z = (size_z * std::pow(size_y, 3) - inner_z * std::pow(inner_y, 3)) / 12,
            .torsion_constant = 2 * wall * std::pow(middle_y * middle_z, 2) / (middle_y + middle_z),
            .shear_coefficient_y = thin_box_shear_coefficient(middle_y, middle_z, poissons_ratio),
            .shear_coefficient_z = thin_box_shear_coefficient(middle_z, middle_y, poissons_ratio)};
}

Section general_section(double area, double second_moment_y, double second_moment_z,
                        double torsion_constant, double poissons_ratio) {
    require_positive(area, "general_section", "area");
    require_positive(second_moment_y, "general_section", "second moment about y");
    require_positive(second_moment_z, "general_section", "second moment about z");
    require_positive(torsion_constant, "general_section", "torsion constant");
    require_poissons_ratio(poissons_ratio, "general_section");
    const double shear = rectangle_shear_coefficient(poissons_ratio);
    return {.area = area,
            .second_moment_y = second_moment_y,
            .second_moment_z = second_moment_z,
            .torsion_constant = torsion_constant,
            .shear_coefficient_y = shear,
            .shear_coefficient_z = shear};
}

}  // namespace standfast
