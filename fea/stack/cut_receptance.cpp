#include "fea/stack/cut_receptance.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>
#include <string>
#include <tuple>
#include <utility>

#include "fea/quantities/require.hpp"
#include "fea/solution/statics.hpp"
#include "fea/stack/frames.hpp"
#include "fea/stack/tool_model.hpp"

namespace standfast {
namespace {

constexpr int kLeastModes = 6;

ModalTerm modal_term(const MeasuredMode& mode) {
    require_positive(mode.frequency.radians_per_second, "measured mode", "frequency, rad/s,");
    require_positive(mode.mass, "measured mode", "mass");
    require_not_negative(mode.damping_ratio, "measured mode", "damping ratio");
    require_positive(mode.direction.norm(), "measured mode", "length of its direction");
    return {.frequency = mode.frequency,
            .damping_ratio = mode.damping_ratio,
            .shape = mode.direction / std::sqrt(mode.mass)};
}

SolvedSide measured_side(const std::vector<MeasuredMode>& modes) {
    SolvedSide side;
    side.measured = true;
    std::transform(modes.begin(), modes.end(), std::back_inserter(side.modal.terms), modal_term);
    side.compliance = static_compliance(side.modal);
    side.line = rigid_line(side.modal);
    return side;
}

SolvedSide rigid_side() {
    SolvedSide side;
    side.rigid = true;
    return side;
}

bool is_beyond(const Mode& mode, AngularFrequency frequency) {
    return mode.frequency.radians_per_second > frequency.radians_per_second;
}

/// All modes up to a frequency, at least kLeastModes: asks for more until one lies beyond.
std::vector<Mode> modes_up_to(const AssembledSystem& system, AngularFrequency up_to) {
    const auto most = static_cast<int>(system.size);
    std::vector<Mode> found;
    for (int count = std::min(2 * kLeastModes, most);; count = std::min(2 * count, most)) {
        found = modes(system, count);
        if (static_cast<int>(found.size()) < count || count == most) break;
        if (is_beyond(found.back(), up_to)) break;
    }
    const auto beyond = std::find_if(found.begin(), found.end(),
                                     [&](const Mode& mode) { return is_beyond(mode, up_to); });
    const auto kept = std::max<std::ptrdiff_t>(beyond - found.begin(), kLeastModes);
    if (kept < std::ssize(found)) found.resize(static_cast<std::size_t>(kept));
    return found;
}

constexpr int kLinePoints = 9;

/// A line of material points and where they stand along it.
struct EdgeLine {
    std::vector<double> coordinate;
    std::vector<MaterialPoint> points;
};

SolvedSide solve(const StructureModel& structure, const MaterialPoint& point, const EdgeLine& edge,
                 std::vector<Assumption> notes, const ModeChoice& choice) {
    if (point.node == kGround) {
        SolvedSide side = rigid_side();
        side.notes = std::move(notes);
        return side;
    }
    SolvedSide side;
    side.notes = std::move(notes);
    side.point = point;
    const auto system = std::make_shared<const AssembledSystem>(assemble(structure));
    side.system = system;
    side.modes =
        choice.count > 0 ? modes(*system, choice.count) : modes_up_to(*system, choice.up_to);
    side.compliance = point_compliance(*system, point);
    side.modal = modal_receptance(*system, side.modes, point, side.compliance);
    side.direct = std::make_shared<const DirectReceptance>(*system, point);
    side.poles =
        std::make_shared<const PoleReceptance>(pole_receptance(*system, side.modes, point));
    side.line_points = edge.points;
    side.line = line_receptance(*system, side.modes, edge.coordinate,
                                point_displacements(*system, edge.points));
    return side;
}

/// How far a ray runs inside a tier before it leaves at its top or foot, or where it runs nearly
/// level, at its sides; m.
double way_through(const Tier& tier, const Eigen::Vector3d& from, const Eigen::Vector3d& along) {
    constexpr double kLevel = 0.2;
    const auto to = [](double start, double slope, double low, double high) {
        return slope > 0 ? (high - start) / slope : (low - start) / slope;
    };
    if (std::abs(along.z()) > kLevel) return to(from.z(), along.z(), 0, tier.height);
    const Eigen::Vector2d half{width_x(tier.shape) / 2, width_y(tier.shape) / 2};
    double way = std::numeric_limits<double>::infinity();
    for (int axis = 0; axis < 2; ++axis) {
        if (std::abs(along[axis]) < kLevel) continue;
        way = std::min(way, to(from[axis], along[axis], -half[axis], half[axis]));
    }
    return way;
}

bool stands_upright(const TierFrame& frame, const Eigen::Vector3d& tool_axis) {
    return frame.axes.col(2).dot(tool_axis) > 1 - 1e-9;
}

/// Where the line of the work side begins and how it runs, tier axes.
struct WorkLine {
    Eigen::Vector3d origin;  ///< coordinate 0
    Eigen::Vector3d along;
    double from = 0, to = 0;  ///< m, along it
    double length() const { return to - from; }
};

WorkLine work_line(const Stack& stack, const Pass& pass, const Eigen::Vector3d& place) {
    const TierFrame frame = tier_frames(stack)[pass.tier];
    const Tier& tier = stack.tiers[pass.tier];
    const Eigen::Vector3d axis = tool_axes(pass.tilt, pass.turn, 0).col(2);
    const Eigen::Vector3d along = frame.axes.transpose() * axis;
    if (hangs_from_top(pass, frame)) {
        return {{place.x(), place.y(), tier.height}, Eigen::Vector3d::UnitZ(), -tier.height, 0};
    }
    return {place, along, 0, std::max(way_through(tier, place, along), 0.0)};
}

/// Places of the line's points, tier axes, held within the tier.
std::vector<Eigen::Vector3d> places_of(const WorkLine& line, double height,
                                       const std::vector<double>& coordinate) {
    std::vector<Eigen::Vector3d> places;
    for (const double at : coordinate) {
        Eigen::Vector3d place = line.origin + at * line.along;
        place.z() = std::clamp(place.z(), 0.0, height);
        places.push_back(place);
    }
    return places;
}

std::vector<double> coordinates_of(const WorkLine& line) {
    if (!(line.length() > 1e-9)) return {0.0};
    std::vector<double> coordinate = line_points(line.length(), kLinePoints);
    for (double& at : coordinate) at += line.from;
    return coordinate;
}

std::vector<double> heights_of(const std::vector<Eigen::Vector3d>& places) {
    std::vector<double> heights;
    for (const Eigen::Vector3d& place : places) heights.push_back(place.z());
    return heights;
}

/// Both ends of every stretch of the path and three places between.
std::vector<Eigen::Vector3d> looked_at(const Pass& pass) {
    constexpr int kBetween = 4;
    std::vector<Eigen::Vector3d> places{pass.path.front()};
    for (std::size_t i = 1; i < pass.path.size(); ++i) {
        for (int k = 1; k <= kBetween; ++k) {
            places.emplace_back(pass.path[i - 1] +
                                (pass.path[i] - pass.path[i - 1]) * k / double{kBetween});
        }
    }
    return places;
}

}  // namespace

SolvedSide solve_tool_side(const Machine& machine, const ToolChain& tool,
                           const ModeChoice& choice) {
    if (tool.rigid) return rigid_side();
    if (!tool.modes.empty()) return measured_side(tool.modes);
    const double stickout = stickout_of(tool.cutter);
    EdgeLine edge{line_points(stickout, kLinePoints), {}};
    ToolModel model = tool_model(machine, tool, edge.coordinate);
    for (const int node : model.edge_nodes) {
        edge.points.push_back({.node = node, .arm = Eigen::Vector3d::Zero()});
    }
    const MaterialPoint tip{.node = model.tip_node, .arm = Eigen::Vector3d::Zero()};
    SolvedSide side = solve(model.structure, tip, edge, std::move(model.notes), choice);
    side.reach = stickout;
    return side;
}

bool hangs_from_top(const Pass& pass, const TierFrame& frame) {
    return pass.from_top && stands_upright(frame, tool_axes(pass.tilt, pass.turn, 0).col(2));
}

Eigen::Vector3d softest_place(const Machine& machine, const Stack& stack, const Pass& pass,
                              double depth) {
    if (pass.path.empty()) return Eigen::Vector3d::Zero();
    if (pass.path.size() == 1 || stack.rigid || !stack.modes.empty()) return pass.path.front();
    const Stack now = pass.state ? in_state(stack, pass.tier, *pass.state) : stack;
    const TierFrame frame = tier_frames(now).at(pass.tier);
    const Eigen::Vector3d axis = tool_axes(pass.tilt, pass.turn, 0).col(2);
    const Tier& tier = now.tiers[pass.tier];
    std::vector<Eigen::Vector3d> places = looked_at(pass), middles = places;
    for (Eigen::Vector3d& middle : middles) {
        middle += frame.axes.transpose() * axis * (depth / 2);
        middle.z() = std::clamp(middle.z(), 0.0, tier.height);
    }
    const StackModel model =
        stack_model(machine, now, {{.tier = pass.tier, .heights = heights_of(middles)}});
    std::vector<MaterialPoint> points;
    for (const Eigen::Vector3d& middle : middles) {
        points.push_back(point_on_tier(model, pass.tier, middle));
    }
    if (points.front().node == kGround) return places.front();
    const AssembledSystem system = assemble(model.structure);
    const auto rows = point_displacements(system, points);
    const Eigen::MatrixXd moved =
        StaticSolution(system).displacements(Eigen::MatrixXd(rows).transpose());
    const Eigen::Matrix3d across = Eigen::Matrix3d::Identity() - axis * axis.transpose();
    std::size_t softest = 0;
    double most = 0;
    for (std::size_t k = 0; k < points.size(); ++k) {
        const auto first = 3 * static_cast<Eigen::Index>(k);
        const Eigen::Matrix3d own = rows.middleRows(first, 3) * moved.middleCols<3>(first);
        const double gives = (across * own * across).norm();
        if (gives > most * (1 + 1e-6)) {
            most = gives;
            softest = k;
        }
    }
    return places[softest];
}

SolvedSide solve_work_side(const Machine& machine, const Stack& stack, const Pass& pass,
                           const Eigen::Vector3d& place, const ModeChoice& choice) {
    if (stack.rigid) return rigid_side();
    if (!stack.modes.empty()) return measured_side(stack.modes);
    if (pass.tier >= stack.tiers.size()) {
        throw std::domain_error("pass \"" + pass.name + "\": it cuts tier " +
                                std::to_string(pass.tier + 1) + ", must be one of the stack's " +
                                std::to_string(stack.tiers.size()));
    }
    const Stack now = pass.state ? in_state(stack, pass.tier, *pass.state) : stack;
    const WorkLine line = work_line(now, pass, place);
    EdgeLine edge{coordinates_of(line), {}};
    const double height = now.tiers[pass.tier].height;
    const std::vector<Eigen::Vector3d> places = places_of(line, height, edge.coordinate);
    std::vector<double> heights = heights_of(places);
    heights.push_back(place.z());
    StackModel model = stack_model(machine, now, {{.tier = pass.tier, .heights = heights}});
    for (const Eigen::Vector3d& at : places) {
        edge.points.push_back(point_on_tier(model, pass.tier, at));
    }
    const MaterialPoint point = point_on_tier(model, pass.tier, place);
    SolvedSide side = solve(model.structure, point, edge, std::move(model.notes), choice);
    side.reach = line.length();
    return side;
}

Eigen::Matrix3cd receptance_of(const SolvedSide& side, AngularFrequency frequency) {
    if (side.rigid) return Eigen::Matrix3cd::Zero();
    if (side.direct) return side.direct->at(frequency);
    return receptance_at(side.modal, frequency);
}

Eigen::Matrix3cd receptance_by_poles(const SolvedSide& side, AngularFrequency frequency) {
    return side.poles ? receptance_at(*side.poles, frequency) : receptance_of(side, frequency);
}

CutReceptance cut_receptance(const SolvedSide& tool, const SolvedSide& work, double tilt,
                             double turn, double feed_heading) {
    CutReceptance cut;
    cut.axes_from_stack = tool_axes(tilt, turn, feed_heading);
    cut.axes_from_spindle = rotation_z(feed_heading);
    cut.modal =
        sum(in_axes(tool.modal, cut.axes_from_spindle), in_axes(work.modal, cut.axes_from_stack));
    cut.tool_terms = tool.modal.terms.size();
    return cut;
}

Eigen::Vector3d highest_place(const Pass& pass, const TierFrame& frame) {
    if (pass.path.empty()) return Eigen::Vector3d::Zero();
    // Of places equally high the one farthest from the tier's axis is the softer: it twists.
    const auto softness = [&](const Eigen::Vector3d& place) {
        constexpr double kSameHeight = 1e-7;
        const double height = frame.foot.z() + (frame.axes * place).z();
        return std::tuple(std::round(height / kSameHeight), place.head<2>().norm());
    };
    return *std::max_element(pass.path.begin(), pass.path.end(),
                             [&](const Eigen::Vector3d& a, const Eigen::Vector3d& b) {
                                 return softness(a) < softness(b);
                             });
}

}  // namespace standfast
