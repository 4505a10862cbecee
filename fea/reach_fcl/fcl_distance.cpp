#include "fea/reach_fcl/fcl_distance.hpp"

#include <fcl/geometry/shape/box.h>
#include <fcl/geometry/shape/cone.h>
#include <fcl/geometry/shape/convex.h>
#include <fcl/geometry/shape/cylinder.h>
#include <fcl/narrowphase/distance.h>

#include <algorithm>
#include <memory>

namespace standfast {
namespace {

// FCL's tolerances are absolute, 1e-6 of whatever unit its numbers are in: with millimetres they
// are far below what matters.
constexpr double kPerMetre = 1000;

struct Placed {
    std::shared_ptr<fcl::CollisionGeometryd> geometry;
    fcl::Transform3d pose;
};

/// The shape's own axes, moved to `origin` of the solid's axes; `flip` turns z over.
fcl::Transform3d pose_of(const ConvexSolid& solid, const Eigen::Vector3d& origin, bool flip) {
    fcl::Transform3d pose = fcl::Transform3d::Identity();
    pose.linear() = solid.pose.axes;
    if (flip) pose.linear() *= Eigen::Vector3d(1, -1, -1).asDiagonal();
    pose.translation() = kPerMetre * (solid.pose.origin + solid.pose.axes * origin);
    return pose;
}

Placed hull_of(const ConvexSolid& solid) {
    // Without faces FCL looks at every corner for the one farthest along a direction: right for
    // any set of points, and quick for a few hundred.
    auto corners = std::make_shared<std::vector<fcl::Vector3d>>(corners_around(solid));
    for (fcl::Vector3d& corner : *corners) corner *= kPerMetre;
    return {std::make_shared<fcl::Convexd>(corners, 0, std::make_shared<std::vector<int>>(), false),
            fcl::Transform3d::Identity()};
}

Placed placed(const ConvexSolid& solid) {
    if (const auto* const box = std::get_if<BoxSolid>(&solid.shape)) {
        corners_around(solid);  // throws where a size is not physical
        return {std::make_shared<fcl::Boxd>(kPerMetre * box->size),
                pose_of(solid, Eigen::Vector3d::Zero(), false)};
    }
    const auto* const round = std::get_if<RoundSolid>(&solid.shape);
    if (round == nullptr) return hull_of(solid);
    corners_around(solid);
    const double widest = std::max(round->foot_diameter, round->top_diameter);
    const double thinnest = std::min(round->foot_diameter, round->top_diameter);
    const Eigen::Vector3d middle(0, 0, round->length / 2);
    if (widest == thinnest)
        return {std::make_shared<fcl::Cylinderd>(kPerMetre * widest / 2, kPerMetre * round->length),
                pose_of(solid, middle, false)};
    if (thinnest == 0)
        return {std::make_shared<fcl::Coned>(kPerMetre * widest / 2, kPerMetre * round->length),
                pose_of(solid, middle, round->foot_diameter < round->top_diameter)};
    return hull_of(solid);
}

class FclDistance final : public SolidDistance {
public:
    double between(const ConvexSolid& a, const ConvexSolid& b) const override {
        const Placed first = placed(a);
        const Placed second = placed(b);
        fcl::DistanceRequestd request;
        request.gjk_solver_type = fcl::GJKSolverType::GST_LIBCCD;
        fcl::DistanceResultd result;
        fcl::distance(first.geometry.get(), first.pose, second.geometry.get(), second.pose, request,
                      result);
        return std::max(0.0, result.min_distance) / kPerMetre;
    }
};

}  // namespace

std::unique_ptr<SolidDistance> fcl_distance() { return std::make_unique<FclDistance>(); }

}  // namespace standfast
