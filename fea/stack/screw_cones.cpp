#include "fea/stack/screw_cones.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "fea/quantities/require.hpp"

namespace standfast {
namespace {

constexpr double kPi = std::numbers::pi;
constexpr double kConeDiameters = 3.2;
constexpr double kHoleDiameters = 1.1;
constexpr double kLeastConeDiameters = 1.6;  // the head's own bearing
constexpr double kEdgeDiameters = 1.25;

/// Distance of the screws from the outer edge.
struct Inset {
    double diameter;
    double operator()(const TubeShape& shape) const { return (shape.outer - shape.inner) / 4; }
    double operator()(const BoxShape& shape) const { return shape.wall / 2; }
    template <class Solid>
    double operator()(const Solid&) const {
        return kEdgeDiameters * diameter;
    }
};

bool is_round(const SectionShape& shape) {
    return std::holds_alternative<RoundShape>(shape) || std::holds_alternative<TubeShape>(shape);
}

const SectionShape& smaller(const SectionShape& lower, const SectionShape& upper) {
    return width_x(lower) * width_y(lower) < width_x(upper) * width_y(upper) ? lower : upper;
}

std::vector<Eigen::Vector2d> on_circle(int count, double radius, double first) {
    std::vector<Eigen::Vector2d> places;
    for (int screw = 0; screw < count; ++screw) {
        const double angle = first + 2 * kPi * screw / count;
        places.emplace_back(radius * std::cos(angle), radius * std::sin(angle));
    }
    return places;
}

double distance_to_next(const std::vector<Eigen::Vector2d>& places, std::size_t screw) {
    double least = std::numeric_limits<double>::infinity();
    for (std::size_t other = 0; other < places.size(); ++other) {
        if (other != screw) least = std::min(least, (places[other] - places[screw]).norm());
    }
    return least;
}

/// Along the longer side for two, on the diagonals for four, else from half a step off x.
double first_angle(int count, const SectionShape& face) {
    if (count == 2) return width_x(face) < width_y(face) ? kPi / 2 : 0;
    return kPi / count;
}

}  // namespace

std::vector<Eigen::Vector2d> screw_places(const Screws& screws, const SectionShape& lower,
                                          const SectionShape& upper) {
    require_positive(screws.diameter, "screws", "diameter");
    if (screws.count == 1) return {Eigen::Vector2d::Zero()};
    const SectionShape& face = smaller(lower, upper);
    const double first = first_angle(screws.count, face);
    if (screws.circle) {
        require_positive(*screws.circle, "screws", "circle");
        return on_circle(screws.count, *screws.circle / 2, first);
    }
    const double inset = std::visit(Inset{screws.diameter}, face);
    const double x = std::max(width_x(face) / 2 - inset, 0.0);
    const double y = std::max(width_y(face) / 2 - inset, 0.0);
    if (screws.count == 4 && !is_round(face)) return {{x, y}, {-x, y}, {-x, -y}, {x, -y}};
    const double radius = screws.count == 2 ? std::max(x, y) : std::min(x, y);
    return on_circle(screws.count, radius, first);
}

std::vector<AreaMoments> screw_cones(const Screws& screws, const SectionShape& lower,
                                     const SectionShape& upper) {
    const std::vector<Eigen::Vector2d> places = screw_places(screws, lower, upper);
    std::vector<AreaMoments> cones;
    for (std::size_t screw = 0; screw < places.size(); ++screw) {
        const double cone =
            std::clamp(distance_to_next(places, screw), kLeastConeDiameters * screws.diameter,
                       kConeDiameters * screws.diameter);
        const TubeShape ring{.outer = cone, .inner = kHoleDiameters * screws.diameter};
        cones.push_back(common_area(
            {{.shape = ring, .centre = places[screw]}, {.shape = lower}, {.shape = upper}}));
    }
    return cones;
}

}  // namespace standfast
