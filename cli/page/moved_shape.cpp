#include "cli/page/moved_shape.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <numbers>
#include <stdexcept>

#include "cli/page/plane.hpp"
#include "fea/judgement/cut/sides.hpp"
#include "fea/judgement/solids/tool_solids.hpp"
#include "fea/solution/modes.hpp"
#include "fea/solution/statics.hpp"
#include "fea/stack/frames.hpp"
#include "fea/stack/stack_model.hpp"
#include "fea/stack/tool_model.hpp"

namespace standfast {
namespace {

constexpr int kRoundCorners = 16;
constexpr int kCuts = 5;  // pieces that a tier is drawn in, so that its bending is seen

/// A side's model with its pieces as points that move with its nodes; the side's own axes.
struct DrawnSide {
    StructureModel structure;
    struct Piece {
        std::string member;
        std::vector<MaterialPoint> points;
    };
    std::vector<Piece> pieces;
    MaterialPoint loaded;
    Eigen::Vector3d force = Eigen::Vector3d::Zero();
    Eigen::Vector3d origin = Eigen::Vector3d::Zero();    ///< of its axes, stack axes
    Eigen::Matrix3d axes = Eigen::Matrix3d::Identity();  ///< columns, stack axes
};

std::vector<Eigen::Vector3d> outline(const SectionShape& shape) {
    const double x = width_x(shape) / 2, y = width_y(shape) / 2;
    const bool round =
        std::holds_alternative<RoundShape>(shape) || std::holds_alternative<TubeShape>(shape);
    if (!round) return {{x, y, 0}, {-x, y, 0}, {-x, -y, 0}, {x, -y, 0}};
    std::vector<Eigen::Vector3d> corners;
    for (int k = 0; k < kRoundCorners; ++k) {
        const double angle = 2 * std::numbers::pi * k / kRoundCorners;
        corners.emplace_back(x * std::cos(angle), x * std::sin(angle), 0);
    }
    return corners;
}

SectionShape shape_up(const Tier& tier, double height) {
    if (!tier.top || !(tier.height > 0)) return tier.shape;
    const double part = std::clamp(height / tier.height, 0.0, 1.0);
    const auto between = [&](double a, double b) { return a + part * (b - a); };
    if (std::holds_alternative<RoundShape>(tier.shape) ||
        std::holds_alternative<TubeShape>(tier.shape)) {
        return RoundShape{between(width_x(tier.shape), width_x(*tier.top))};
    }
    return BlockShape{between(width_x(tier.shape), width_x(*tier.top)),
                      between(width_y(tier.shape), width_y(*tier.top))};
}

void add_corners(DrawnSide::Piece& piece, const Attachment& at, const Eigen::Matrix3d& axes,
                 const SectionShape& shape) {
    for (const Eigen::Vector3d& corner : outline(shape)) {
        piece.points.push_back({.node = at.node, .arm = at.arm + axes * corner});
    }
}

void add_tier(DrawnSide& side, const Tier& tier, const StackModel& model, std::size_t index) {
    const Eigen::Matrix3d& axes = model.frames[index].axes;
    const std::vector<Station>& stations = model.stations[index];
    for (std::size_t i = 1; i < stations.size(); ++i) {
        DrawnSide::Piece piece{tier.name, {}};
        for (const std::size_t end : {i - 1, i}) {
            add_corners(piece, stations[end].at, axes, shape_up(tier, stations[end].height));
        }
        side.pieces.push_back(std::move(piece));
    }
    if (tier.lump && stations.size() == 1) {
        DrawnSide::Piece piece{tier.name, {}};
        for (const double height : {0.0, tier.height}) {
            Attachment at = stations.front().at;
            at.arm += height * axes.col(2);
            add_corners(piece, at, axes, shape_up(tier, height));
        }
        side.pieces.push_back(std::move(piece));
    }
}

DrawnSide work_side(const Job& job, const PassReport& pass) {
    const Pass& cut = job.passes[pass.pass];
    const Stack stack = stack_at(job, cut);
    std::vector<CutHeights> heights;
    for (std::size_t i = 0; i < stack.tiers.size(); ++i) {
        CutHeights of{.tier = i, .heights = {}};
        for (int k = 1; k < kCuts && !stack.tiers[i].lump; ++k) {
            of.heights.push_back(stack.tiers[i].height * k / kCuts);
        }
        heights.push_back(std::move(of));
    }
    const StackModel model = stack_model(job.machine, stack, heights);
    DrawnSide side;
    side.structure = model.structure;
    for (std::size_t i = 0; i < stack.tiers.size(); ++i) add_tier(side, stack.tiers[i], model, i);
    const TierFrame& frame = model.frames[cut.tier];
    Eigen::Vector3d place = frame.axes.transpose() * (middle_of_cut(job, pass) - frame.foot);
    place.z() = std::clamp(place.z(), 0.0, stack.tiers[cut.tier].height);
    side.loaded = point_on_tier(model, cut.tier, place);
    side.force = -pass_axes(job, pass) * pass.mean_force;
    return side;
}

DrawnSide tool_side(const Job& job, const PassReport& pass) {
    const Pass& cut = job.passes[pass.pass];
    const ToolChain& tool = job.tools[cut.tool];
    const double stickout = stickout_of(tool.cutter);
    const double middle = std::min(pass.judged_depth / 2, stickout);
    std::vector<double> heights{0};
    if (middle > 1e-9) heights.push_back(middle);
    for (int k = 1; k < kCuts; ++k) {
        const double at = stickout * k / kCuts;
        if (at > heights.back() + 1e-6) heights.push_back(at);
    }
    const ToolModel model = tool_model(job.machine, tool, heights);
    DrawnSide side;
    side.structure = model.structure;
    const std::vector<ToolSolid> solids = tool_solids(job.machine, tool, stickout);
    const auto diameter_at = [&](double z) {
        for (const ToolSolid& solid : solids) {
            if (z > solid.from + solid.shape.length) continue;
            const double part = std::clamp((z - solid.from) / solid.shape.length, 0.0, 1.0);
            return solid.shape.foot_diameter +
                   part * (solid.shape.top_diameter - solid.shape.foot_diameter);
        }
        return solids.back().shape.top_diameter;
    };
    const auto position = [&](const Attachment& at) -> double {
        return (at.node == kGround
                    ? at.arm
                    : Eigen::Vector3d(model.structure.nodes[static_cast<std::size_t>(at.node)] +
                                      at.arm))
            .z();
    };
    for (const BeamRun& run : model.structure.beams) {
        DrawnSide::Piece piece{model.structure.members[static_cast<std::size_t>(run.member)].name,
                               {}};
        const double low = std::min(position(run.start), position(run.end));
        const double high = std::max(position(run.start), position(run.end));
        for (const Attachment& end : {run.start, run.end}) {
            const double inside =
                std::clamp(position(end), low + 1e-3 * (high - low), high - 1e-3 * (high - low));
            add_corners(piece, end, Eigen::Matrix3d::Identity(), RoundShape{diameter_at(inside)});
        }
        side.pieces.push_back(std::move(piece));
    }
    side.loaded = {.node = middle > 1e-9 ? model.edge_nodes[1] : model.edge_nodes[0],
                   .arm = Eigen::Vector3d::Zero()};
    const double heading = pass.error_heading.value_or(pass.feed_heading.value_or(0));
    side.force = rotation_z(heading) * pass.mean_force;
    side.axes = tool_axes(cut.tilt, cut.turn, 0);
    side.origin = tip_of_tool(job, pass);
    return side;
}

/// The pieces with the displacements of one vector of freedoms.
void add_moved(MovedShape& shape, const DrawnSide& side, const AssembledSystem& system,
               const Eigen::VectorXd& freedoms) {
    for (const DrawnSide::Piece& piece : side.pieces) {
        const auto count = static_cast<Eigen::Index>(piece.points.size());
        MovedPiece moved{piece.member, Eigen::Matrix3Xd(3, count),
                         Eigen::Matrix3Xd::Zero(3, count)};
        for (Eigen::Index k = 0; k < count; ++k) {
            const MaterialPoint& point = piece.points[static_cast<std::size_t>(k)];
            Eigen::Vector3d at = point.arm;
            if (point.node != kGround) {
                at += system.nodes[static_cast<std::size_t>(point.node)];
                const Eigen::Index first = 6 * static_cast<Eigen::Index>(point.node);
                const Eigen::Vector3d shift = freedoms.segment<3>(first);
                const Eigen::Vector3d turn = freedoms.segment<3>(first + 3);
                moved.moved.col(k) = side.axes * (shift + turn.cross(point.arm));
            }
            moved.corners.col(k) = side.origin + side.axes * at;
        }
        shape.pieces.push_back(std::move(moved));
    }
}

void add_side(MovedShapes& shapes, const DrawnSide& side, bool tool,
              const std::vector<ReportedMode>& reported, std::size_t most) {
    const AssembledSystem system = assemble(side.structure);
    if (system.size == 0) return;
    Eigen::VectorXd under = Eigen::VectorXd::Zero(system.size);
    if (side.loaded.node != kGround) {
        const Eigen::VectorXd load =
            point_displacement(system, side.loaded).transpose() * side.force;
        under = StaticSolution(system).displacements(load);
    }
    add_moved(shapes.under_force, side, system, under);
    const std::size_t count = std::min(most, reported.size());
    if (count == 0) return;
    const std::vector<Mode> solved = modes(system, static_cast<int>(count));
    for (std::size_t i = 0; i < std::min(count, solved.size()); ++i) {
        constexpr double kSame = 0.01;
        const double hertz = solved[i].frequency.hertz();
        if (std::abs(hertz - reported[i].frequency_hertz) > kSame * hertz) continue;
        MovedShape mode;
        mode.hertz = reported[i].frequency_hertz;
        mode.damping = reported[i].damping_ratio;
        mode.shares = reported[i].strain_share;
        mode.tool_side = tool;
        add_moved(mode, side, system, solved[i].shape);
        shapes.modes.push_back(std::move(mode));
    }
}

}  // namespace

double MovedShape::most() const {
    double most = 0;
    for (const MovedPiece& piece : pieces) {
        if (piece.moved.cols() > 0) {
            most = std::max(most, piece.moved.colwise().norm().maxCoeff());
        }
    }
    return most;
}

Eigen::Vector3d middle_of_cut(const Job& job, const PassReport& pass) {
    const Pass& cut = job.passes[pass.pass];
    const Stack stack = stack_at(job, cut);
    if (stack.tiers.empty() || cut.path.empty()) return Eigen::Vector3d::Zero();
    const TierFrame frame = tier_frames(stack).at(cut.tier);
    const Eigen::Vector3d axis = frame.axes.transpose() * tool_axes(cut.tilt, cut.turn, 0).col(2);
    Eigen::Vector3d place = judged_place(job, cut);
    // A cut that hangs from the top has its tip below it by its depth.
    const double half = pass.judged_depth / 2;
    if (hangs_from_top(cut, frame)) place.z() = stack.tiers[cut.tier].height - 2 * half;
    place += half * axis;
    place.z() = std::clamp(place.z(), 0.0, stack.tiers[cut.tier].height);
    return frame.foot + frame.axes * place;
}

Eigen::Vector3d tip_of_tool(const Job& job, const PassReport& pass) {
    const Pass& cut = job.passes[pass.pass];
    const Eigen::Matrix3d axes = pass_axes(job, pass);
    const double depth = std::min(pass.judged_depth, stickout_of(job.tools[cut.tool].cutter));
    Eigen::Vector3d tip = middle_of_cut(job, pass) - axes.col(2) * (depth / 2);
    if (cut.milling == Milling::slot) return tip;
    // The finished wall is at -y of the tool when milling down, at +y when milling up.
    const Eigen::Vector3d outward = axes.col(1) * (cut.milling == Milling::down ? 1 : -1);
    const Stack stack = stack_at(job, cut);
    if (cut.from_top && !stack.tiers.empty()) {
        const Eigen::Vector3d of_tier = tier_frames(stack).at(cut.tier).axes.transpose() * outward;
        double out = 0;
        for (const Eigen::Vector3d& corner : outline(stack.tiers[cut.tier].shape)) {
            out = std::max(out, corner.dot(of_tier));
        }
        tip += out * outward;
    }
    return tip + outward * (job.tools[cut.tool].cutter.diameter / 2);
}

MovedShapes moved_shapes(const Job& job, const PassReport& pass, std::size_t modes_a_side) {
    MovedShapes shapes;
    const Pass& cut = job.passes.at(pass.pass);
    const ToolChain& tool = job.tools.at(cut.tool);
    const auto say = [&](const char* what) {
        shapes.why_not += (shapes.why_not.empty() ? "" : "; ") + std::string(what);
    };
    if (job.stack.rigid || !job.stack.modes.empty() || job.stack.tiers.empty()) {
        say("the stack is given without a shape that could be drawn bent");
    } else {
        add_side(shapes, work_side(job, pass), false, pass.work_modes, modes_a_side);
    }
    if (tool.rigid || !tool.modes.empty()) {
        say("the tool is given without a shape that could be drawn bent");
    } else {
        add_side(shapes, tool_side(job, pass), true, pass.tool_modes, modes_a_side);
    }
    return shapes;
}

}  // namespace standfast
