#include "fea/stack/cut_receptance.hpp"

#include <algorithm>
#include <cmath>
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

SolvedSide solve(const StructureModel& structure, const MaterialPoint& point,
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
    return side;
}

}  // namespace

SolvedSide solve_tool_side(const Machine& machine, const ToolChain& tool,
                           const ModeChoice& choice) {
    if (tool.rigid) return rigid_side();
    if (!tool.modes.empty()) return measured_side(tool.modes);
    ToolModel model = tool_model(machine, tool);
    const MaterialPoint tip{.node = model.tip_node, .arm = Eigen::Vector3d::Zero()};
    return solve(model.structure, tip, std::move(model.notes), choice);
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
    StackModel model = stack_model(machine, now, {{.tier = pass.tier, .heights = {place.z()}}});
    const MaterialPoint point = point_on_tier(model, pass.tier, place);
    return solve(model.structure, point, std::move(model.notes), choice);
}

Eigen::Matrix3cd receptance_of(const SolvedSide& side, AngularFrequency frequency) {
    if (side.rigid) return Eigen::Matrix3cd::Zero();
    return side.direct ? side.direct->at(frequency) : receptance_at(side.modal, frequency);
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
