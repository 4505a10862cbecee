#include "fea/job/shape.hpp"

#include <cmath>
#include <numbers>

#include "fea/quantities/require.hpp"

namespace standfast {
namespace {

constexpr double kPi = std::numbers::pi;

double square(double value) { return value * value; }
double cube(double value) { return value * value * value; }
double fourth(double value) { return square(square(value)); }

/// Width of the rectangle with this radius of gyration.
double width_of(double second_moment, double area) {
    require_positive(area, "general shape", "area");
    require_positive(second_moment, "general shape", "second moment");
    return std::sqrt(12 * second_moment / area);
}

double inner_x(const BoxShape& box) { return box.x - 2 * box.wall; }
double inner_y(const BoxShape& box) { return box.y - 2 * box.wall; }

struct WidthX {
    double operator()(const RoundShape& shape) const { return shape.diameter; }
    double operator()(const TubeShape& shape) const { return shape.outer; }
    double operator()(const BlockShape& shape) const { return shape.x; }
    double operator()(const BoxShape& shape) const { return shape.x; }
    double operator()(const GeneralShape& shape) const { return width_of(shape.iy, shape.area); }
};

struct WidthY {
    double operator()(const RoundShape& shape) const { return shape.diameter; }
    double operator()(const TubeShape& shape) const { return shape.outer; }
    double operator()(const BlockShape& shape) const { return shape.y; }
    double operator()(const BoxShape& shape) const { return shape.y; }
    double operator()(const GeneralShape& shape) const { return width_of(shape.ix, shape.area); }
};

struct MaterialArea {
    double operator()(const RoundShape& shape) const { return kPi / 4 * square(shape.diameter); }
    double operator()(const TubeShape& shape) const {
        return kPi / 4 * (square(shape.outer) - square(shape.inner));
    }
    double operator()(const BlockShape& shape) const { return shape.x * shape.y; }
    double operator()(const BoxShape& shape) const {
        return shape.x * shape.y - inner_x(shape) * inner_y(shape);
    }
    double operator()(const GeneralShape& shape) const { return shape.area; }
};

struct SecondMomentAboutX {
    double operator()(const RoundShape& shape) const { return kPi / 64 * fourth(shape.diameter); }
    double operator()(const TubeShape& shape) const {
        return kPi / 64 * (fourth(shape.outer) - fourth(shape.inner));
    }
    double operator()(const BlockShape& shape) const { return shape.x * cube(shape.y) / 12; }
    double operator()(const BoxShape& shape) const {
        return (shape.x * cube(shape.y) - inner_x(shape) * cube(inner_y(shape))) / 12;
    }
    double operator()(const GeneralShape& shape) const { return shape.ix; }
};

struct SecondMomentAboutY {
    double operator()(const RoundShape& shape) const { return SecondMomentAboutX{}(shape); }
    double operator()(const TubeShape& shape) const { return SecondMomentAboutX{}(shape); }
    double operator()(const BlockShape& shape) const { return shape.y * cube(shape.x) / 12; }
    double operator()(const BoxShape& shape) const {
        return (shape.y * cube(shape.x) - inner_y(shape) * cube(inner_x(shape))) / 12;
    }
    double operator()(const GeneralShape& shape) const { return shape.iy; }
};

}  // namespace

double width_x(const SectionShape& shape) { return std::visit(WidthX{}, shape); }
double width_y(const SectionShape& shape) { return std::visit(WidthY{}, shape); }
double material_area(const SectionShape& shape) { return std::visit(MaterialArea{}, shape); }
double second_moment_about_x(const SectionShape& shape) {
    return std::visit(SecondMomentAboutX{}, shape);
}
double second_moment_about_y(const SectionShape& shape) {
    return std::visit(SecondMomentAboutY{}, shape);
}

}  // namespace standfast
