#pragma once

#include <Eigen/Core>
#include <optional>
#include <vector>

#include "fea/job/job.hpp"
#include "fea/judgement/solids/solid.hpp"

namespace standfast {

/// A half space: the points x with normal . x <= offset.
struct HalfSpace {
    Eigen::Vector3d normal = Eigen::Vector3d::UnitZ();  ///< unit, points out of it
    double offset = 0;                                  ///< m
};

/// One straight stretch of the path (or its only point), at one heading; stack axes.
struct CutPlace {
    Eigen::Vector3d tip = Eigen::Vector3d::Zero();       ///< m, on the tool's axis, at its start
    Eigen::Vector3d along = Eigen::Vector3d::Zero();     ///< m, from start to end
    Eigen::Matrix3d axes = Eigen::Matrix3d::Identity();  ///< columns: feed, normal, tool axis
    /// What the piece keeps: behind the finished wall (two walls of a slot), and under the tip.
    /// The rest of it, on the tool's side of the wall and above the tip, is cut away by this pass
    /// or was before: that the flutes pass through it, shank and holder too, is no fault.
    std::vector<HalfSpace> kept;
    double back = 0;  ///< m, how far the finished wall is set back, see set_back
};

/// How far the finished wall is set back for a shank as thick as the cutter, which would else meet
/// it by rounding, m: 0.02 mm and 0.3 % of the radius, more than the polygons of a sweep stand out.
double set_back(double cutter_radius);

/// The places of a pass, one for each stretch of its path and each heading that it may have.
///
/// The path is that of the tool's tip on the finished wall (design of the job file), so the tool's
/// axis runs half a cutter's diameter away from it, at the wall's outer side; in a slot, along it.
/// Where neither wall nor heading is given, twelve headings all round.
/// The floor holds the path: a sloping path has a sloping floor. A path along the tool's axis (a
/// plunge) leaves the floor at its lowest point.
std::vector<CutPlace> cut_places(const Job& job, const Pass& pass);

/// What of a solid lies in the half space; none where nothing does. A round solid becomes the
/// polygons around its circles first.
std::optional<ConvexSolid> clipped(const ConvexSolid& solid, const HalfSpace& kept);

}  // namespace standfast
