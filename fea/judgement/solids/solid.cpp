#include "fea/judgement/solids/solid.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <stdexcept>

#include "fea/quantities/require.hpp"

namespace standfast {
namespace {

using Points = std::vector<Eigen::Vector3d>;

/// A polygon around the circle, or its centre where the circle is a point.
void add_circle(Points& points, double diameter, double z, int sides) {
    if (!(diameter > 0)) {
        points.emplace_back(0, 0, z);
        return;
    }
    const double half_angle = std::numbers::pi / sides;
    const double radius = diameter / 2 / std::cos(half_angle);
    for (int i = 0; i < sides; ++i) {
        const double angle = 2 * half_angle * i;
        points.emplace_back(radius * std::cos(angle), radius * std::sin(angle), z);
    }
}

struct Corners {
    int sides;
    Points operator()(const RoundSolid& round) const {
        require_not_negative(round.foot_diameter, "round solid", "diameter at its foot");
        require_not_negative(round.top_diameter, "round solid", "diameter at its top");
        require_not_negative(round.length, "round solid", "length");
        Points points;
        add_circle(points, round.foot_diameter, 0, sides);
        add_circle(points, round.top_diameter, round.length, sides);
        return points;
    }
    Points operator()(const BoxSolid& box) const {
        for (const double size : box.size) require_not_negative(size, "box", "width");
        Points points;
        for (const double x : {-0.5, 0.5}) {
            for (const double y : {-0.5, 0.5}) {
                for (const double z : {-0.5, 0.5}) {
                    points.push_back(box.size.cwiseProduct(Eigen::Vector3d(x, y, z)));
                }
            }
        }
        return points;
    }
    Points operator()(const HullSolid& hull) const {
        if (hull.points.empty()) throw std::domain_error("hull: has no points, must have one");
        for (const Eigen::Vector3d& point : hull.points) {
            require_finite(point.sum(), "hull", "a corner");
        }
        return hull.points;
    }
};

/// Along a direction in the solid's own axes.
struct Farthest {
    Eigen::Vector3d direction;
    double operator()(const RoundSolid& round) const {
        const double across = std::hypot(direction.x(), direction.y());
        return std::max(across * round.foot_diameter / 2,
                        across * round.top_diameter / 2 + direction.z() * round.length);
    }
    double operator()(const BoxSolid& box) const { return box.size.dot(direction.cwiseAbs()) / 2; }
    double operator()(const HullSolid& hull) const {
        double farthest = -std::numeric_limits<double>::infinity();
        for (const Eigen::Vector3d& point : hull.points) {
            farthest = std::max(farthest, point.dot(direction));
        }
        return farthest;
    }
};

struct Radius {
    double operator()(const RoundSolid& round) const {
        return std::max(round.foot_diameter / 2, std::hypot(round.top_diameter / 2, round.length));
    }
    double operator()(const BoxSolid& box) const { return box.size.norm() / 2; }
    double operator()(const HullSolid& hull) const {
        double radius = 0;
        for (const Eigen::Vector3d& point : hull.points) radius = std::max(radius, point.norm());
        return radius;
    }
};

}  // namespace

std::vector<Eigen::Vector3d> corners_around(const ConvexSolid& solid, int sides) {
    if (sides < 3) throw std::domain_error("corners around a solid: sides must be 3 or more");
    Points points = std::visit(Corners{sides}, solid.shape);
    for (Eigen::Vector3d& point : points) point = solid.pose.origin + solid.pose.axes * point;
    return points;
}

ConvexSolid swept(const ConvexSolid& solid, const Eigen::Vector3d& along) {
    if (along.isZero()) return solid;
    Points points = corners_around(solid);
    const std::size_t start = points.size();
    points.reserve(2 * start);
    for (std::size_t i = 0; i < start; ++i) points.push_back(points[i] + along);
    for (Eigen::Vector3d& point : points) {
        point = solid.pose.axes.transpose() * (point - solid.pose.origin);
    }
    return {.name = solid.name, .shape = HullSolid{std::move(points)}, .pose = solid.pose};
}

double farthest_along(const ConvexSolid& solid, const Eigen::Vector3d& direction) {
    const Eigen::Vector3d own = solid.pose.axes.transpose() * direction;
    return solid.pose.origin.dot(direction) + std::visit(Farthest{own}, solid.shape);
}

double bounding_radius(const ConvexSolid& solid) { return std::visit(Radius{}, solid.shape); }

}  // namespace standfast
