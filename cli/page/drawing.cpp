#include "cli/page/drawing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "cli/page/markup.hpp"
#include "cli/page/plane.hpp"
#include "cli/page/svg.hpp"
#include "cli/report/common/given_words.hpp"
#include "cli/report/common/number.hpp"
#include "fea/judgement/solids/tool_solids.hpp"
#include "fea/judgement/solids/work_solids.hpp"
#include "fea/stack/stack_model.hpp"

namespace standfast {
namespace {

constexpr double kInch = 0.0254;

/// Everything of a pass's set-up as outlines in its plane.
struct Outlines {
    struct Piece {
        std::string name, css;
        std::vector<Eigen::Vector2d> corners;
    };
    std::vector<Piece> work, tool;
    std::vector<std::string> left_out;
    Eigen::Vector2d low{1e9, 1e9}, high{-1e9, -1e9};

    void reach(const std::vector<Eigen::Vector2d>& corners) {
        for (const Eigen::Vector2d& corner : corners) {
            low = low.cwiseMin(corner);
            high = high.cwiseMax(corner);
        }
    }
};

std::vector<Eigen::Vector2d> outline_of(const ConvexSolid& solid, const DrawingPlane& plane) {
    std::vector<Eigen::Vector2d> corners;
    for (const Eigen::Vector3d& corner : corners_around(solid)) corners.push_back(plane.of(corner));
    return hull_of(std::move(corners));
}

std::string_view css_of(ToolPart part) {
    return part == ToolPart::flutes ? "flutes" : part == ToolPart::nose ? "nose" : "tool";
}

void add_tool(Outlines& outlines, const Job& job, const PassReport& pass,
              const DrawingPlane& plane) {
    const ToolChain& tool = job.tools[job.passes[pass.pass].tool];
    if (!(stickout_of(tool.cutter) > 0) || !(tool.cutter.diameter > 0)) return;
    const Eigen::Vector3d tip = tip_of_tool(job, pass);
    const Eigen::Matrix3d axes = pass_axes(job, pass);
    for (const ToolSolid& step : tool_solids(job.machine, tool, stickout_of(tool.cutter))) {
        const ConvexSolid solid{
            step.name, step.shape, {.origin = tip + axes.col(2) * step.from, .axes = axes}};
        Outlines::Piece piece{step.name, std::string(css_of(step.part)), outline_of(solid, plane)};
        outlines.reach(piece.corners);
        outlines.tool.push_back(std::move(piece));
    }
}

/// The table is drawn only as far as the rest goes: it would make everything else small.
void add_table(Outlines& outlines, Outlines::Piece table) {
    const double spare = 0.15 * (outlines.high.x() - outlines.low.x());
    double left = table.corners.front().x(), right = left;
    for (const Eigen::Vector2d& corner : table.corners) {
        left = std::min(left, corner.x());
        right = std::max(right, corner.x());
    }
    left = std::max(left, outlines.low.x() - spare);
    right = std::min(right, outlines.high.x() + spare);
    const double under = -0.06 * (outlines.high.y() - std::min(0.0, outlines.low.y()));
    table.corners = {{left, under}, {right, under}, {right, 0}, {left, 0}};
    table.css = "table";
    outlines.reach(table.corners);
    outlines.work.insert(outlines.work.begin(), std::move(table));
}

Outlines outlines_of(const Job& job, const PassReport& pass, const DrawingPlane& plane) {
    Outlines outlines;
    const Pass& cut = job.passes[pass.pass];
    const Stack stack = stack_at(job, cut);
    Outlines::Piece table{"table", "table", {{-0.05, 0}, {0.05, 0}}};
    if (!stack.tiers.empty()) {
        WorkSolids work = work_solids(job.machine, stack, cut.tier);
        outlines.left_out = work.left_out;
        for (const bool piece : {false, true}) {
            for (const ConvexSolid& solid : piece ? work.piece : work.around) {
                Outlines::Piece drawn{solid.name, piece ? "part" : "body",
                                      outline_of(solid, plane)};
                if (solid.name == "table" && !piece && &solid == &work.around.front()) {
                    table = std::move(drawn);
                    continue;
                }
                outlines.reach(drawn.corners);
                outlines.work.push_back(std::move(drawn));
            }
        }
    }
    add_tool(outlines, job, pass, plane);
    if (outlines.high.x() < outlines.low.x()) outlines.reach({{-0.05, 0}, {0.05, 0.1}});
    add_table(outlines, std::move(table));
    return outlines;
}

/// Tiers from the cut one down to the table.
std::vector<std::size_t> chain_of(const Stack& stack, std::size_t cut) {
    std::vector<std::size_t> chain;
    for (std::optional<std::size_t> at = cut; at && *at < stack.tiers.size();
         at = stack.tiers[*at].placement.host) {
        chain.push_back(*at);
    }
    return chain;
}

std::string letter_of(std::size_t index) {
    std::string letters(1, static_cast<char>('A' + index % 26));
    return index < 26 ? letters : letters + std::to_string(index / 26);
}

struct LegendRow {
    std::string letter, what, sizes, joint;
};

void draw_joints(Svg& svg, const Stack& stack, const DrawingPlane& plane) {
    const std::vector<TierFrame> frames = tier_frames(stack);
    for (std::size_t i = 0; i < stack.tiers.size(); ++i) {
        const Tier& tier = stack.tiers[i];
        if (tier.joint.solid) continue;
        double half = 0;
        Eigen::Vector2d along(1, 0);
        for (int column = 0; column < 2; ++column) {
            const double width = (column == 0 ? width_x(tier.shape) : width_y(tier.shape)) / 2;
            const Eigen::Vector2d end = plane.of(frames[i].axes.col(column)) * width;
            if (end.norm() > half) {
                half = end.norm();
                along = end;
            }
        }
        const Eigen::Vector2d foot = plane.of(frames[i].foot);
        svg.line(foot - along, foot + along, "joint");
    }
}

std::vector<LegendRow> legend_of(const Job& job, const PassReport& pass, const Stack& stack,
                                 UnitSystem units) {
    std::vector<LegendRow> rows;
    for (std::size_t i = 0; i < stack.tiers.size(); ++i) {
        const Tier& tier = stack.tiers[i];
        std::string sizes = shape_words(tier.shape, units);
        if (tier.top) sizes += ", at its top " + shape_words(*tier.top, units);
        sizes += fmt::format(", {} tall", given_length(tier.height, units));
        if (tier.lump)
            sizes += fmt::format("; a rigid body of {}", mass_text(tier.lump->mass, units));
        if (!tier.material.name.empty()) sizes += "; " + tier.material.name;
        if (tier.placement.lean != 0) sizes += "; leans " + degrees_text(tier.placement.lean);
        for (const SideMass& side : tier.side) {
            sizes += fmt::format("; at its side {} of {}",
                                 side.name.empty() ? "a mass" : "\"" + side.name + "\"",
                                 mass_text(side.mass, units));
        }
        rows.push_back({letter_of(i), tier.name, sizes, joint_words(tier.joint, units)});
    }
    for (const Support& support : stack.supports) {
        rows.push_back({"", support.name, "a support on " + stack.tiers[support.tier].name,
                        support.kind.name});
    }
    const ToolChain& tool = job.tools[job.passes[pass.pass].tool];
    if (!tool.rigid && tool.modes.empty()) {
        std::string holder;
        for (const HolderStep& step : tool.holder) {
            holder +=
                fmt::format("{}{} by {} long", holder.empty() ? "" : ", then ",
                            given_length(step.diameter, units), given_length(step.length, units));
        }
        if (tool.holder_assumed) holder += "; a typical one, the job gives none";
        if (!holder.empty()) {
            rows.push_back({"H", "holder", holder, joint_words(tool.taper, units)});
        }
    }
    const Cutter& cutter = tool.cutter;
    std::string sizes =
        fmt::format("{} across, {} teeth", given_length(cutter.diameter, units), cutter.teeth);
    if (cutter.stickout > 0 || !cutter.segments.empty()) {
        sizes += fmt::format(", {} out of the holder", given_length(stickout_of(cutter), units));
    }
    if (cutter.flute_length > 0) {
        sizes += fmt::format(", flutes {}", given_length(cutter.flute_length, units));
    }
    if (cutter.neck_length > 0) {
        sizes += fmt::format(", neck {} by {}", given_length(cutter.neck_diameter, units),
                             given_length(cutter.neck_length, units));
    }
    if (cutter.shank_diameter > 0) {
        sizes += fmt::format(", shank {}", given_length(cutter.shank_diameter, units));
    }
    rows.push_back({"T", tool.name, sizes, joint_words(tool.grip, units)});
    return rows;
}

std::string legend_html(const std::vector<LegendRow>& rows) {
    std::string out =
        "<div class=wide><table class=plain><thead><tr><th scope=col>In the drawing</th><th "
        "scope=col>What</th><th scope=col>Sizes as given</th><th scope=col>Held by</th></tr>"
        "</thead><tbody>\n";
    for (const LegendRow& row : rows) {
        out += fmt::format("<tr><td>{}</td><td>{}</td><td>{}</td><td>{}</td></tr>\n", row.letter,
                           html(row.what), html(row.sizes), html(row.joint));
    }
    return out + "</tbody></table></div>\n";
}

void letter_stack(Svg& svg, const Stack& stack, const PassReport& pass, const Job& job,
                  const Outlines& outlines, const DrawingPlane& plane, UnitSystem units) {
    const std::vector<TierFrame> frames = tier_frames(stack);
    const std::vector<std::size_t> chain = chain_of(stack, job.passes[pass.pass].tier);
    std::vector<Svg::Letter> left;
    for (std::size_t i = 0; i < stack.tiers.size(); ++i) {
        const Tier& tier = stack.tiers[i];
        const Eigen::Vector3d middle = frames[i].foot + frames[i].axes.col(2) * (tier.height / 2);
        const bool in_chain = std::find(chain.begin(), chain.end(), i) != chain.end();
        if (in_chain) {
            double edge = plane.of(middle).x();
            for (const Outlines::Piece& piece : outlines.work) {
                if (piece.name != tier.name || piece.css == "table") continue;
                for (const Eigen::Vector2d& corner : piece.corners)
                    edge = std::min(edge, corner.x());
            }
            left.push_back({{edge, plane.of(middle).y()},
                            fmt::format("{} {}", letter_of(i), given_length(tier.height, units))});
        }
        svg.text(plane.of(middle), letter_of(i), "middle");
    }
    svg.column(std::move(left), false);
}

void letter_tool(Svg& svg, const Job& job, const PassReport& pass, const DrawingPlane& plane,
                 UnitSystem units) {
    const ToolChain& tool = job.tools[job.passes[pass.pass].tool];
    const double stickout = stickout_of(tool.cutter);
    if (!(stickout > 0)) return;
    const Eigen::Vector3d tip = tip_of_tool(job, pass), axis = pass_axes(job, pass).col(2);
    const auto at = [&](double height) { return plane.of(tip + height * axis); };
    const double gauge = tool.rigid ? stickout : gauge_length(tool);
    svg.line(at(-0.1 * stickout), at(1.04 * gauge), "axis");
    svg.line(at(0), at(std::min(pass.judged_depth, stickout)), "cut");
    std::vector<Svg::Letter> right = {
        {at(stickout / 2), fmt::format("out {}", given_length(stickout, units))},
        {at(pass.judged_depth / 2), fmt::format("cut {}", given_length(pass.judged_depth, units))},
        {at(0), fmt::format("dia. {}", given_length(tool.cutter.diameter, units))}};
    if (gauge > stickout) {
        right.push_back({at(gauge), fmt::format("gauge {}", given_length(gauge, units))});
        right.push_back({at((gauge + stickout) / 2), "H holder"});
    }
    svg.column(std::move(right), true);
}

/// A bar of a round length under the table, at most 80 units long.
void draw_scale(Svg& svg, const Eigen::Vector2d& low, double room, UnitSystem units) {
    const double unit = units == UnitSystem::metric ? 1e-3 : kInch;
    const double most = 80 / svg.units_per_metre() / unit;
    const double power = std::pow(10.0, std::floor(std::log10(most)));
    const double length = power * (most / power >= 5 ? 5 : most / power >= 2 ? 2 : 1) * unit;
    const Eigen::Vector2d from(low.x(), low.y() - 0.7 * room);
    const Eigen::Vector2d to = from + Eigen::Vector2d(length, 0), tick(0, 0.25 * room);
    svg.line(from, to, "size");
    svg.line(from - tick, from + tick, "size");
    svg.line(to - tick, to + tick, "size");
    svg.text(to + Eigen::Vector2d(4 / svg.units_per_metre(), 0), length_text(length, units),
             "start");
}

}  // namespace

DrawnSetUp draw_set_up(const Job& job, const PassReport& pass, UnitSystem units,
                       const std::optional<DrawingBox>& box) {
    const Pass& cut = job.passes.at(pass.pass);
    const Stack stack = stack_at(job, cut);
    const DrawingPlane plane = drawing_plane(job, pass);
    const Outlines outlines = outlines_of(job, pass, plane);
    const double room = 0.05 * (outlines.high.y() - outlines.low.y());
    const DrawingBox whole{{outlines.low.x(), outlines.low.y() - room}, outlines.high};
    const DrawingBox shown = box.value_or(whole);
    DrawnSetUp drawn{.svg = Svg(shown.low, shown.high, 400, 520, 92, 112),
                     .plane = plane,
                     .box = shown,
                     .left_out = outlines.left_out};
    Svg& svg = drawn.svg;
    for (const Outlines::Piece& piece : outlines.work)
        svg.polygon(piece.corners, piece.css, piece.name);
    if (!stack.tiers.empty()) draw_joints(svg, stack, plane);
    for (const Outlines::Piece& piece : outlines.tool)
        svg.polygon(piece.corners, piece.css, piece.name);
    const std::vector<TierFrame> frames = tier_frames(stack);
    for (const Support& support : stack.supports) {
        const TierFrame& frame = frames[support.tier];
        const Eigen::Vector2d at = plane.of(frame.foot + frame.axes * support.at);
        svg.circle(at, 5, "mark");
        svg.text(at, support.name, "start");
    }
    if (!stack.tiers.empty()) letter_stack(svg, stack, pass, job, outlines, plane, units);
    letter_tool(svg, job, pass, plane, units);
    draw_scale(svg, outlines.low, room, units);
    return drawn;
}

std::string drawing_html(const Job& job, const PassReport& pass, UnitSystem units) {
    const Pass& cut = job.passes.at(pass.pass);
    const DrawnSetUp drawn = draw_set_up(job, pass, units);
    std::string out = "<figure class=drawing>";
    out += drawn.svg.element(fmt::format(
        "The set-up of pass {} to scale; the table beside it holds the sizes.", pass.name));
    out += fmt::format(
        "<figcaption>To scale, {}. Thick lines at a foot are joints, the thick line at the tool is "
        "the cut{}.",
        html(drawn.plane.words),
        cut.tilt != 0 ? html(fmt::format("; the tool leans {}", degrees_text(cut.tilt))) : "");
    if (cut.from_top)
        out += " The job gives no place: the wall is drawn at the outside of the part.";
    out += "</figcaption>";
    if (!drawn.left_out.empty()) {
        std::string list;
        for (const std::string& item : drawn.left_out) list += (list.empty() ? "" : ", ") + item;
        out += fmt::format("<p class=note>Not drawn, or only roughly: {}.</p>", html(list));
    }
    return out + "</figure>\n" + legend_html(legend_of(job, pass, stack_at(job, cut), units));
}

double drawing_factor(const MovedShape& shape) {
    double size = 0;
    Eigen::Vector3d low = Eigen::Vector3d::Constant(1e9), high = -low;
    for (const MovedPiece& piece : shape.pieces) {
        for (const auto& corner : piece.corners.colwise()) {
            low = low.cwiseMin(corner);
            high = high.cwiseMax(corner);
        }
    }
    size = (high - low).norm();
    const double most = shape.most();
    if (!(most > 0) || !(size > 0)) return 1;
    const double wanted = 0.08 * size / most;
    const double power = std::pow(10.0, std::floor(std::log10(wanted)));
    const double first = wanted / power;
    return power * (first >= 5 ? 5 : first >= 2 ? 2 : 1);
}

std::string moved_svg(const Job& job, const PassReport& pass, const MovedShape& shape,
                      double factor, const std::string& label) {
    const DrawingPlane plane = drawing_plane(job, pass);
    const Outlines outlines = outlines_of(job, pass, plane);
    std::vector<std::vector<Eigen::Vector2d>> moved;
    Eigen::Vector2d low = outlines.low, high = outlines.high;
    for (const MovedPiece& piece : shape.pieces) {
        std::vector<Eigen::Vector2d> corners;
        for (Eigen::Index k = 0; k < piece.corners.cols(); ++k) {
            corners.push_back(plane.of(piece.corners.col(k) + factor * piece.moved.col(k)));
            low = low.cwiseMin(corners.back());
            high = high.cwiseMax(corners.back());
        }
        moved.push_back(hull_of(std::move(corners)));
    }
    Svg svg(low, high, 240, 320, 6, 6);
    for (const Outlines::Piece& piece : outlines.work) {
        svg.polygon(piece.corners, piece.css == "table" ? "table" : "rest");
    }
    for (const Outlines::Piece& piece : outlines.tool) svg.polygon(piece.corners, "rest");
    for (const std::vector<Eigen::Vector2d>& piece : moved) svg.polygon(piece, "moved");
    return svg.element(label);
}

}  // namespace standfast
