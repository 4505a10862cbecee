#include "cli/job/read/pass_axes.hpp"

#include <Eigen/Geometry>
#include <cmath>

namespace standfast {
namespace {

Eigen::Matrix3d about_y(double angle) {
    return Eigen::AngleAxisd(angle, Eigen::Vector3d::UnitY()).toRotationMatrix();
}
Eigen::Matrix3d about_z(double angle) {
    return Eigen::AngleAxisd(angle, Eigen::Vector3d::UnitZ()).toRotationMatrix();
}

}  // namespace

Eigen::Matrix3d tier_axes(const Stack& stack, std::size_t tier) {
    Eigen::Matrix3d axes = Eigen::Matrix3d::Identity();
    std::optional<std::size_t> next = tier;
    while (next && *next < stack.tiers.size()) {
        const Placement& placement = stack.tiers[*next].placement;
        axes =
            about_z(placement.heading) * about_y(placement.lean) * about_z(placement.spin) * axes;
        // A host always comes before its guest, so this ends.
        next = placement.host && *placement.host < *next ? placement.host : std::nullopt;
    }
    return axes;
}

Eigen::Vector3d spindle_in_tier(const Job& job, const Pass& pass) {
    const Eigen::Matrix3d tool = about_z(pass.turn) * about_y(pass.tilt);
    return tier_axes(job.stack, pass.tier).transpose() * tool.col(2);
}

std::optional<Eigen::Vector3d> run_of_path(const Pass& pass) {
    if (pass.path.size() != 2) {
        return std::nullopt;
    }
    return pass.path[1] - pass.path[0];
}

std::optional<double> heading_of_path(const Job& job, const Pass& pass) {
    const std::optional<Eigen::Vector3d> run = run_of_path(pass);
    if (!run || run->norm() < 1e-9) {
        return std::nullopt;
    }
    const Eigen::Matrix3d tool = about_z(pass.turn) * about_y(pass.tilt);
    const Eigen::Vector3d in_tool =
        tool.transpose() * tier_axes(job.stack, pass.tier) * run->normalized();
    if (std::abs(in_tool.z()) > std::sin(0.1745)) {
        return std::nullopt;
    }
    return std::atan2(in_tool.y(), in_tool.x());
}

double path_sense(const Job& job, const Pass& pass) {
    const std::optional<Eigen::Vector3d> run = run_of_path(pass);
    if (!run || !pass.wall || run->norm() < 1e-9) {
        return 0;
    }
    Eigen::Vector3d feed = pass.wall->cross(spindle_in_tier(job, pass));
    if (pass.milling == Milling::up) {
        feed = -feed;
    }
    const double norm = feed.norm();
    const double sense = norm > 1e-6 ? feed.dot(run->normalized()) / norm : 0;
    return std::abs(sense) > 0.9 ? (sense > 0 ? 1 : -1) : 0;
}

}  // namespace standfast
