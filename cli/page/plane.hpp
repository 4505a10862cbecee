#pragma once

#include <Eigen/Core>
#include <string>
#include <vector>

#include "fea/job/job.hpp"
#include "fea/judgement/answer/report.hpp"

namespace standfast {

/// The upright plane that a pass is drawn in.
struct DrawingPlane {
    Eigen::Vector3d across = Eigen::Vector3d::UnitX();  ///< stack axes, level, unit; to the right
    std::string words;                                  ///< "seen with the stack's x to the right"

    Eigen::Vector2d of(const Eigen::Vector3d& point) const {
        return {across.dot(point), point.z()};
    }
};

/// With a tilted tool the plane that it leans in; else the one along that axis of the cut tier that
/// is nearest to the wall's normal, so that widths are seen as the job gives them and the push-off
/// is seen too.
DrawingPlane drawing_plane(const Job& job, const PassReport& pass);

/// Corners of the convex hull, counter-clockwise.
std::vector<Eigen::Vector2d> hull_of(std::vector<Eigen::Vector2d> points);

/// The tool's axes at the pass (columns: feed, normal, axis), stack axes.
Eigen::Matrix3d pass_axes(const Job& job, const PassReport& pass);

/// The job's stack as it is at that pass.
Stack stack_at(const Job& job, const Pass& pass);

}  // namespace standfast
