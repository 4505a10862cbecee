#pragma once

#include <Eigen/Core>
#include <optional>
#include <string>
#include <vector>

#include "cli/page/drawing.hpp"
#include "fea/job/job.hpp"
#include "fea/judgement/answer/report.hpp"
#include "materials/units.hpp"

namespace standfast {

/// What can be taken hold of in the picture.
struct ExploreHandle {
    std::string turns;      ///< "riser", "stickout", "depth"
    Eigen::Vector2d at;     ///< units of the picture, y down
    Eigen::Vector2d along;  ///< units of the picture a metre more moves it by, once let go or held
};

/// Scale and place of a picture, kept while something is dragged.
struct HeldView {
    DrawingBox box;
    Eigen::Vector2d gauge_line = Eigen::Vector2d::Zero();  ///< m, in the drawing's plane
    /// The spindle stays where it was and the stack moves, as at the machine when the head is
    /// raised; else the table stays.
    bool tool_still = false;
};

struct ExploreDrawing {
    std::string svg;
    std::vector<ExploreHandle> handles;
    HeldView view;
};

/// The set-up of a pass to scale with its handles: the riser's top, the cutter's tip, and the end
/// of the cut that moves as it grows deeper (its top, or the tip where no place is given).
ExploreDrawing explore_drawing(const Job& job, const PassReport& pass, UnitSystem units,
                               const std::optional<HeldView>& held);

}  // namespace standfast
