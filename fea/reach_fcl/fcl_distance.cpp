#include "fea/reach_fcl/fcl_distance.hpp"

#include <fcl/geometry/shape/box.h>
#include <fcl/geometry/shape/cone.h>
#include <fcl/geometry/shape/convex.h>
#include <fcl/geometry/shape/cylinder.h>
#include <fcl/narrowphase/distance.h>

#include <Eigen/Geometry>
#include <algorithm>
#include <memory>

namespace standfast {
namespace {

// FCL's tolerances are absolute, 1e-6 of whatever unit its numbers are in: with millimetres they
// are far below what matters.
constexpr double kPerMetre = 1000;

constexpr double kProof = 2e-6;  // m, to which an answer is proven
constexpr int kAttempts = 6;

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
    if (widest == thinnest) {
        return {std::make_shared<fcl::Cylinderd>(kPerMetre * widest / 2, kPerMetre * round->length),
                pose_of(solid, middle, false)};
    }
    if (thinnest == 0) {
        return {std::make_shared<fcl::Coned>(kPerMetre * widest / 2, kPerMetre * round->length),
                pose_of(solid, middle, round->foot_diameter < round->top_diameter)};
    }
    return hull_of(solid);
}

/// Nearest points as FCL found them, m; no gap where the solids meet.
struct Nearest {
    double gap = 0;
    Eigen::Vector3d from_a_to_b = Eigen::Vector3d::Zero();
};

Nearest ask_fcl(const Placed& a, const Placed& b) {
    fcl::DistanceRequestd request;
    request.enable_nearest_points = true;
    request.gjk_solver_type = fcl::GJKSolverType::GST_LIBCCD;
    fcl::DistanceResultd result;
    fcl::distance(a.geometry.get(), a.pose, b.geometry.get(), b.pose, request, result);
    if (!(result.min_distance > 0)) return {};
    return {result.min_distance / kPerMetre,
            (result.nearest_points[1] - result.nearest_points[0]) / kPerMetre};
}

/// Two planes square to this line, one touching each solid, stand this far apart: no distance of
/// the two is smaller. This proves an answer, whatever way it was found.
double gap_across(const ConvexSolid& a, const ConvexSolid& b, const Eigen::Vector3d& line) {
    if (!(line.norm() > 0)) return 0;
    const Eigen::Vector3d normal = line.normalized();
    return -farthest_along(b, -normal) - farthest_along(a, normal);
}

/// The solid turned and moved by far less than matters.
Placed nudged(const Placed& solid, int attempt) {
    const double turn = 1e-6 * attempt;
    fcl::Transform3d nudge = fcl::Transform3d::Identity();
    nudge.linear() =
        Eigen::AngleAxisd(turn, Eigen::Vector3d(3, -2, 1 + attempt).normalized()).matrix();
    return {solid.geometry, nudge * solid.pose};
}

class FclDistance final : public SolidDistance {
public:
    double between(const ConvexSolid& a, const ConvexSolid& b) const override {
        const Placed first = placed(a);
        const Placed second = placed(b);
        const Nearest plain = ask_fcl(first, second);
        if (plain.gap == 0) return 0;
        double proven = gap_across(a, b, plain.from_a_to_b);
        if (proven >= plain.gap - kProof) return plain.gap;
        // The search stops early now and then where faces and edges are square to each other; a
        // nudge brings it on. What is proven may be trusted, and errs to the near side.
        double found = plain.gap;
        for (int attempt = 1; attempt <= kAttempts && proven < found - kProof; ++attempt) {
            const Nearest next = ask_fcl(nudged(first, attempt), second);
            found = std::min(found, next.gap);
            proven = std::max(proven, gap_across(a, b, next.from_a_to_b));
        }
        return std::max(0.0, proven);
    }
};

}  // namespace

std::unique_ptr<SolidDistance> fcl_distance() { return std::make_unique<FclDistance>(); }

}  // namespace standfast
