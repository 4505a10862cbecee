#pragma once

#include <Eigen/Core>
#include <string>
#include <variant>
#include <vector>

namespace standfast {

/// Where a solid stands: a point of its own axes is at origin + axes * point. Columns of axes:
/// right-handed, orthonormal.
struct Pose {
    Eigen::Vector3d origin = Eigen::Vector3d::Zero();    ///< m
    Eigen::Matrix3d axes = Eigen::Matrix3d::Identity();  ///< -
};

/// A step of a solid of revolution about z, from z = 0 up to its length.
struct RoundSolid {
    double foot_diameter = 0, top_diameter = 0;  ///< m; one of them may be 0: a cone
    double length = 0;                           ///< m
};
/// A box centred on its origin.
struct BoxSolid {
    Eigen::Vector3d size = Eigen::Vector3d::Zero();  ///< m, full widths along x, y, z
};
/// The convex hull of some points, m.
struct HullSolid {
    std::vector<Eigen::Vector3d> points;
};
using SolidShape = std::variant<RoundSolid, BoxSolid, HullSolid>;

/// A convex solid in its place, with the name that a machinist knows it by.
struct ConvexSolid {
    std::string name;
    SolidShape shape;
    Pose pose;
};

/// Corners of a polyhedron that holds the solid, in the axes that the pose leads to. Exact for a
/// box and a hull; a round solid becomes two polygons of `sides` corners drawn around its circles,
/// at most 1 / cos(pi / sides) - 1 of the radius outside it (48: 0.2 %).
/// @throws std::domain_error unless sizes are finite and not negative, sides >= 3
std::vector<Eigen::Vector3d> corners_around(const ConvexSolid& solid, int sides = 48);

/// The solid as it sweeps along a straight line without turning: the hull of its corners at both
/// ends, so exact but for the polygons around its circles, which err to the outside.
/// @param along  m, from where it stands to where it ends, in the axes that the pose leads to
ConvexSolid swept(const ConvexSolid& solid, const Eigen::Vector3d& along);

/// How far the solid itself (its circles exact) reaches along a direction, m: the largest dot
/// product of one of its points with it, in the axes that the pose leads to.
double farthest_along(const ConvexSolid& solid, const Eigen::Vector3d& direction);

/// Radius of a sphere about the pose's origin that holds the solid, m.
double bounding_radius(const ConvexSolid& solid);

}  // namespace standfast
