#pragma once

#include <variant>

namespace standfast {

// Room "job": a shop's job as plain SI data, and nothing else. Advice and studies edit these
// structs, never text. Sizes x, y are along the tier's own axes.

struct RoundShape {
    double diameter = 0;  ///< m
};
struct TubeShape {
    double outer = 0, inner = 0;  ///< m, diameters
};
struct BlockShape {
    double x = 0, y = 0;  ///< m
};
struct BoxShape {
    double x = 0, y = 0, wall = 0;  ///< m
};
/// A section by its figures; ix bends about x (integral of y^2), iy about y; size is unknown.
struct GeneralShape {
    double area = 0, ix = 0, iy = 0, torsion = 0;  ///< m^2, m^4
};
using SectionShape = std::variant<RoundShape, TubeShape, BlockShape, BoxShape, GeneralShape>;

/// Full width along x and along y of the shape, m. A GeneralShape counts as the rectangle with
/// its radii of gyration, sqrt(12 I / A): the true widths of a solid rectangle.
double width_x(const SectionShape& shape);
double width_y(const SectionShape& shape);
/// Cross-section area of material, m^2.
double material_area(const SectionShape& shape);
/// Integral of y^2 (bending about x) and of x^2 (bending about y) over the material, m^4.
double second_moment_about_x(const SectionShape& shape);
double second_moment_about_y(const SectionShape& shape);

}  // namespace standfast
