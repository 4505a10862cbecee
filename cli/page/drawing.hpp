#pragma once

#include <Eigen/Core>
#include <optional>
#include <string>
#include <vector>

#include "cli/page/moved_shape.hpp"
#include "cli/page/plane.hpp"
#include "cli/page/svg.hpp"
#include "fea/job/job.hpp"
#include "fea/judgement/answer/report.hpp"
#include "materials/units.hpp"

namespace standfast {

/// The part of a drawing's plane that its picture shows, m.
struct DrawingBox {
    Eigen::Vector2d low = Eigen::Vector2d::Zero(), high = Eigen::Vector2d::Zero();
};

/// The picture of a set-up alone.
struct DrawnSetUp {
    Svg svg;
    DrawingPlane plane;
    DrawingBox box;
    std::vector<std::string> left_out;  ///< what is not drawn, or only roughly
};

/// The set-up of a pass to scale, from the table to the spindle's nose, lettered.
/// @param box  what to show instead of all of it: the scale of another picture
DrawnSetUp draw_set_up(const Job& job, const PassReport& pass, UnitSystem units,
                       const std::optional<DrawingBox>& box = {});

/// The set-up of a pass to scale, from the table to the spindle's nose, with its sizes; a figure
/// with an SVG and the list of all letters in it.
std::string drawing_html(const Job& job, const PassReport& pass, UnitSystem units);

/// The set-up bent, or in a mode, over its outline at rest.
/// @param caption  how many times as large the motion is drawn, and what it is
std::string moved_svg(const Job& job, const PassReport& pass, const MovedShape& shape,
                      double factor, const std::string& label);

/// How many times as large to draw a motion so that it shows: 1, 2 or 5 times a power of ten.
double drawing_factor(const MovedShape& shape);

}  // namespace standfast
