#include "cli/explore/answers/explore_drawing.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "cli/page/moved_shape.hpp"
#include "cli/page/plane.hpp"
#include "fea/stack/stack_model.hpp"
#include "fea/studies/explore/setting.hpp"

namespace standfast {
namespace {

/// The tool's place in the picture's plane.
struct ToolLine {
    Eigen::Vector3d tip = Eigen::Vector3d::Zero(), axis = Eigen::Vector3d::UnitZ();
    Eigen::Vector3d to_wall = Eigen::Vector3d::Zero();  // m, from the axis to where the edge cuts
    double gauge = 0;                                   // m
};

ToolLine tool_line(const Job& job, const PassReport& pass, const DrawingPlane& plane) {
    const Pass& cut = job.passes[pass.pass];
    const ToolChain& tool = job.tools[cut.tool];
    const Eigen::Matrix3d axes = pass_axes(job, pass);
    const double radius = tool.cutter.diameter / 2;
    ToolLine line{.tip = tip_of_tool(job, pass),
                  .axis = axes.col(2),
                  .to_wall = axes.col(1) * (cut.milling == Milling::up ? radius : -radius),
                  .gauge = tool.rigid ? stickout_of(tool.cutter) : gauge_length(tool)};
    // A wall that faces the eye would hide one handle behind the other.
    if (plane.of(line.to_wall).norm() < radius / 2) line.to_wall = -plane.across * radius;
    return line;
}

constexpr double kAside = 15;  // units that a handle stands off its place, so that none hides one

/// @param aside  where the handle stands from its place, in the picture's plane; zero: right there
ExploreHandle handle(const Svg& svg, const DrawingPlane& plane, const std::string& turns,
                     const Eigen::Vector3d& at, const Eigen::Vector3d& along,
                     const Eigen::Vector3d& aside = Eigen::Vector3d::Zero()) {
    const Eigen::Vector2d place = svg.in_units(plane.of(at));
    Eigen::Vector2d away = svg.in_units(plane.of(at + aside)) - place;
    if (away.norm() > 0) away *= kAside / away.norm();
    return {turns, place + away, svg.in_units(plane.of(at + along)) - place};
}

}  // namespace

ExploreDrawing explore_drawing(const Job& job, const PassReport& pass, UnitSystem units,
                               const std::optional<HeldView>& held) {
    const Pass& cut = job.passes.at(pass.pass);
    const DrawingPlane plane = drawing_plane(job, pass);
    const ToolLine tool = tool_line(job, pass, plane);
    const Eigen::Vector2d gauge = plane.of(tool.tip + tool.gauge * tool.axis);
    std::optional<DrawingBox> box;
    if (held) {
        box = held->box;
        if (held->tool_still) {
            box->low += gauge - held->gauge_line;
            box->high += gauge - held->gauge_line;
        }
    }
    const DrawnSetUp drawn = draw_set_up(job, pass, units, box);
    ExploreDrawing result{
        .svg = drawn.svg.element(fmt::format("The set-up of pass {} to scale", pass.name)),
        .handles = {},
        .view = {.box = drawn.box, .gauge_line = gauge, .tool_still = false}};
    const ExploreRanges ranges = explore_ranges(job, cut);
    if (ranges.riser_height) {
        const std::size_t riser = *riser_of(job, cut);
        const TierFrame frame = tier_frames(stack_at(job, cut)).at(riser);
        const Tier& tier = job.stack.tiers[riser];
        const double half = std::max(width_x(tier.shape), width_y(tier.shape)) / 2;
        const Eigen::Vector3d up = frame.axes.col(2);
        result.handles.push_back(handle(drawn.svg, plane, "riser",
                                        frame.foot + tier.height * up - half * plane.across, up));
    }
    const bool goes_down = cut.from_top;
    const double depth = std::min(pass.judged_depth, std::max(tool.gauge, 1e-6));
    result.handles.push_back(handle(
        drawn.svg, plane, "depth", tool.tip + tool.to_wall + (goes_down ? 0.0 : depth) * tool.axis,
        goes_down ? Eigen::Vector3d(-tool.axis) : tool.axis, tool.to_wall));
    if (ranges.stickout) {
        result.handles.push_back(
            handle(drawn.svg, plane, "stickout", tool.tip, -tool.axis, -tool.axis));
    }
    return result;
}

}  // namespace standfast
