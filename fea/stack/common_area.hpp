#pragma once

#include <Eigen/Core>
#include <vector>

#include "fea/job/shape.hpp"

namespace standfast {

/// A section at a place in a face.
struct PlacedShape {
    SectionShape shape;
    Eigen::Vector2d centre = Eigen::Vector2d::Zero();  ///< m
};

/// Area and moments of a plane figure about the origin of the face.
struct AreaMoments {
    double area = 0;                                   ///< m^2
    Eigen::Vector2d first = Eigen::Vector2d::Zero();   ///< m^3, integrals of x and y
    Eigen::Vector2d second = Eigen::Vector2d::Zero();  ///< m^4, integrals of x^2 and y^2
};

/// What all the shapes have in common: bores and hollows count as empty, a GeneralShape as the
/// rectangle with its radii of gyration. 200 strips across the first shape, exact along each:
/// within 0.1 % for shapes of comparable size, and without jumps as a size or a place changes.
/// @throws std::domain_error without shapes or where a width is not positive
AreaMoments common_area(const std::vector<PlacedShape>& shapes);

}  // namespace standfast
