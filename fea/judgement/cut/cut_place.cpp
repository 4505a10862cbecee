#include "fea/judgement/cut/cut_place.hpp"

#include <algorithm>
#include <utility>

#include "fea/judgement/cut/headings.hpp"
#include "fea/stack/frames.hpp"
#include "fea/stack/stack_model.hpp"

namespace standfast {
namespace {

/// Half space behind a plane through a point.
HalfSpace behind(const Eigen::Vector3d& normal, const Eigen::Vector3d& point) {
    return {.normal = normal, .offset = normal.dot(point)};
}

/// The part of a direction across a path; the direction itself where it runs nearly along it.
Eigen::Vector3d across(const Eigen::Vector3d& direction, const Eigen::Vector3d& along) {
    constexpr double kPlunge = 0.1;  // sine of about 6 deg between path and tool axis
    if (along.isZero()) return direction;
    const Eigen::Vector3d path = along.normalized();
    const Eigen::Vector3d rest = direction - direction.dot(path) * path;
    return rest.norm() > kPlunge ? rest.normalized() : direction;
}

HalfSpace floor_of(const CutPlace& place) {
    const Eigen::Vector3d tool = place.axes.col(2);
    const Eigen::Vector3d normal = across(tool, place.along);
    HalfSpace floor = behind(normal, place.tip);
    floor.offset += std::min(0.0, normal.dot(place.along));
    return floor;
}

/// @param wall  outward normal of the finished wall, stack axes
/// @param back  m, how far it is set back
HalfSpace wall_at(const Eigen::Vector3d& wall, const Eigen::Vector3d& point,
                  const Eigen::Vector3d& along, double back) {
    const Eigen::Vector3d normal = across(wall, along);
    HalfSpace kept = behind(normal, point);
    kept.offset += std::min(0.0, normal.dot(along)) - back;
    return kept;
}

struct Stretch {
    Eigen::Vector3d point, along;  ///< on the finished wall, stack axes
};

std::vector<Stretch> stretches_of(const Job& job, const Pass& pass) {
    const TierFrame frame = tier_frames(job.stack).at(pass.tier);
    std::vector<Eigen::Vector3d> points;
    for (const Eigen::Vector3d& point : pass.path) {
        points.emplace_back(frame.foot + frame.axes * point);
    }
    if (points.size() == 1) return {{points.front(), Eigen::Vector3d::Zero()}};
    std::vector<Stretch> stretches;
    for (std::size_t i = 0; i + 1 < points.size(); ++i) {
        stretches.push_back({points[i], points[i + 1] - points[i]});
    }
    return stretches;
}

CutPlace place_at(const Job& job, const Pass& pass, const Stretch& stretch, double heading) {
    CutPlace place{.along = stretch.along, .axes = tool_axes(pass.tilt, pass.turn, heading)};
    const double radius = job.tools[pass.tool].cutter.diameter / 2;
    const double back = place.back = set_back(radius);
    const Eigen::Vector3d side = place.axes.col(1);
    if (pass.milling == Milling::slot) {
        place.tip = stretch.point;
        for (const double sign : {-1.0, 1.0}) {
            place.kept.push_back(
                wall_at(sign * side, stretch.point - sign * radius * side, stretch.along, back));
        }
    } else {
        const Eigen::Vector3d outward = pass.milling == Milling::up ? -side : side;
        place.tip = stretch.point + radius * outward;
        const Eigen::Vector3d wall =
            pass.wall ? tier_frames(job.stack)[pass.tier].axes * pass.wall->normalized() : outward;
        place.kept.push_back(wall_at(wall, stretch.point, stretch.along, back));
    }
    place.kept.push_back(floor_of(place));
    return place;
}

using Edge = std::pair<std::size_t, std::size_t>;

/// Pairs of corners whose joining lines hold every edge of the solid.
std::vector<Edge> edges_of(const ConvexSolid& solid, std::size_t corners) {
    std::vector<Edge> edges;
    const auto* const round = std::get_if<RoundSolid>(&solid.shape);
    if (round == nullptr) {
        for (std::size_t i = 0; i < corners; ++i) {
            for (std::size_t j = i + 1; j < corners; ++j) edges.emplace_back(i, j);
        }
        return edges;
    }
    // Corners of the foot's circle first, then those of the top's; one where it is a point.
    const bool both = round->foot_diameter > 0 && round->top_diameter > 0;
    const std::size_t lower = both ? corners / 2 : round->foot_diameter > 0 ? corners - 1 : 1;
    const std::size_t upper = corners - lower;
    const std::size_t most = std::max(lower, upper);
    for (std::size_t i = 0; i < most; ++i) {
        edges.emplace_back(i % lower, lower + i % upper);
        if (lower > 1) edges.emplace_back(i % lower, (i + 1) % lower);
        if (upper > 1) edges.emplace_back(lower + i % upper, lower + (i + 1) % upper);
    }
    return edges;
}

}  // namespace

double set_back(double cutter_radius) { return 0.02e-3 + 0.003 * cutter_radius; }

std::vector<CutPlace> cut_places(const Job& job, const Pass& pass) {
    std::vector<CutPlace> places;
    for (const double heading : load_headings(job, pass)) {
        for (const Stretch& stretch : stretches_of(job, pass)) {
            places.push_back(place_at(job, pass, stretch, heading));
        }
    }
    return places;
}

std::optional<ConvexSolid> clipped(const ConvexSolid& solid, const HalfSpace& kept) {
    const std::vector<Eigen::Vector3d> corners = corners_around(solid);
    std::vector<double> outside;
    for (const Eigen::Vector3d& corner : corners) {
        outside.push_back(kept.normal.dot(corner) - kept.offset);
    }
    HullSolid hull;
    for (std::size_t i = 0; i < corners.size(); ++i) {
        if (outside[i] <= 0) hull.points.push_back(corners[i]);
    }
    if (hull.points.empty()) return std::nullopt;
    if (hull.points.size() == corners.size()) return solid;
    for (const auto& [i, j] : edges_of(solid, corners.size())) {
        if ((outside[i] <= 0) == (outside[j] <= 0)) continue;
        const double share = outside[i] / (outside[i] - outside[j]);
        hull.points.emplace_back(corners[i] + share * (corners[j] - corners[i]));
    }
    return ConvexSolid{solid.name, std::move(hull), {}};
}

}  // namespace standfast
