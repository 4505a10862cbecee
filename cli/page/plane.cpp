#include "cli/page/plane.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "fea/stack/frames.hpp"
#include "fea/stack/stack_model.hpp"

namespace standfast {
namespace {

double cross(const Eigen::Vector2d& a, const Eigen::Vector2d& b, const Eigen::Vector2d& c) {
    return (b.x() - a.x()) * (c.y() - a.y()) - (b.y() - a.y()) * (c.x() - a.x());
}

std::string words_of(const Eigen::Vector3d& across) {
    for (const auto& [axis, name] :
         {std::pair(Eigen::Vector3d(1, 0, 0), "x"), std::pair(Eigen::Vector3d(0, 1, 0), "y")}) {
        if (across.dot(axis) > 1 - 1e-6) return fmt::format("the stack's {} to the right", name);
        if (across.dot(axis) < -1 + 1e-6) return fmt::format("the stack's {} to the left", name);
    }
    const double heading = std::atan2(across.y(), across.x()) * 180 / std::numbers::pi;
    return fmt::format("heading {:.0f} deg of the stack to the right", heading);
}

}  // namespace

Eigen::Matrix3d pass_axes(const Job& job, const PassReport& pass) {
    const Pass& cut = job.passes.at(pass.pass);
    return tool_axes(cut.tilt, cut.turn,
                     pass.error_heading.value_or(pass.feed_heading.value_or(0)));
}

Stack stack_at(const Job& job, const Pass& pass) {
    return pass.state && !job.stack.tiers.empty() ? in_state(job.stack, pass.tier, *pass.state)
                                                  : job.stack;
}

DrawingPlane drawing_plane(const Job& job, const PassReport& pass) {
    constexpr double kUpright = 0.02;
    DrawingPlane plane;
    const Pass& cut = job.passes.at(pass.pass);
    if (std::abs(std::sin(cut.tilt)) > kUpright) {
        plane.across = {std::cos(cut.turn), std::sin(cut.turn), 0};
    } else if (!job.stack.tiers.empty()) {
        const Eigen::Vector3d normal = pass_axes(job, pass).col(1);
        const Eigen::Matrix3d axes = tier_frames(job.stack).at(cut.tier).axes;
        double best = -1;
        for (int column = 0; column < 2; ++column) {
            Eigen::Vector3d level = axes.col(column);
            level.z() = 0;
            if (level.norm() < kUpright) continue;
            level.normalize();
            if (level.x() + 1e-3 * level.y() < 0) level = -level;
            if (std::abs(level.dot(normal)) > best + 1e-6) {
                best = std::abs(level.dot(normal));
                plane.across = level;
            }
        }
    }
    plane.words = words_of(plane.across);
    return plane;
}

std::vector<Eigen::Vector2d> hull_of(std::vector<Eigen::Vector2d> points) {
    const auto before = [](const Eigen::Vector2d& a, const Eigen::Vector2d& b) {
        return a.x() < b.x() || (a.x() == b.x() && a.y() < b.y());
    };
    std::sort(points.begin(), points.end(), before);
    if (points.size() < 3) return points;
    // Andrew's monotone chain: the lower side, then the upper.
    std::vector<Eigen::Vector2d> hull;
    const auto add = [&](const Eigen::Vector2d& point, std::size_t least) {
        while (hull.size() >= least + 2 &&
               cross(hull[hull.size() - 2], hull.back(), point) <= 1e-15) {
            hull.pop_back();
        }
        hull.push_back(point);
    };
    for (const Eigen::Vector2d& point : points) add(point, 0);
    const std::size_t lower = hull.size() - 1;
    for (std::size_t i = points.size() - 1; i-- > 0;) add(points[i], lower);
    hull.pop_back();
    return hull;
}

}  // namespace standfast
