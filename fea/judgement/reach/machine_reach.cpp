#include "fea/judgement/reach/machine_reach.hpp"

#include <algorithm>
#include <cmath>

#include "fea/judgement/solids/work_solids.hpp"
#include "fea/stack/frames.hpp"
#include "fea/stack/stack_model.hpp"

namespace standfast {
namespace {

constexpr double kSlack = 1e-6;  // m and rad: a limit that is just met is met

constexpr int kSides = 720;  // polygons no more than 0.001 % outside their circles

/// Height over the table and distance from its middle of all that stands on it, m.
struct Outline {
    double height = 0, radius = 0;
};
Outline outline_of(const Job& job, const Pass& pass) {
    Outline outline;
    const WorkSolids work = work_solids(job.machine, job.stack, pass.tier);
    const auto take = [&](const std::vector<ConvexSolid>& solids) {
        for (const ConvexSolid& solid : solids) {
            if (solid.name == "table") continue;
            for (const Eigen::Vector3d& corner : corners_around(solid, kSides)) {
                outline.height = std::max(outline.height, corner.z());
                outline.radius = std::max(outline.radius, std::hypot(corner.x(), corner.y()));
            }
        }
    };
    take(work.piece);
    take(work.around);
    return outline;
}

bool tilt_axis_needed(const Job& job, const Pass& pass) {
    return std::abs(pass.tilt) > kSlack && !job.machine.tilt_axis_above_table;
}

std::optional<MachineShort> short_of_tilt(const Job& job, const Pass& pass) {
    const std::optional<double>& most = job.machine.tilt_max;
    if (!most || std::abs(pass.tilt) <= *most + kSlack) return std::nullopt;
    return MachineShort{ReachFault::tilt, std::abs(pass.tilt), 0, *most};
}

std::optional<MachineShort> short_of_travel(const Job& job, const Pass& pass, double gauge) {
    const Machine& machine = job.machine;
    if (!machine.nose_to_table || tilt_axis_needed(job, pass)) return std::nullopt;
    // A head that tilts moves the gauge line by its own pivot, which a job does not give.
    if (!machine.table_turns && std::abs(pass.tilt) > kSlack) return std::nullopt;
    const double axis = machine.tilt_axis_above_table.value_or(0);
    const Eigen::Vector3d tool = tool_axes(pass.tilt, pass.turn, 0).col(2);
    const TierFrame frame = tier_frames(job.stack).at(pass.tier);
    const auto [from, to] = *machine.nose_to_table;
    for (const Eigen::Vector3d& point : pass.path) {
        const Eigen::Vector3d tip = frame.foot + frame.axes * point;
        const double height = axis + (tip - Eigen::Vector3d(0, 0, axis)).dot(tool) + gauge;
        if (height < from - kSlack || height > to + kSlack) {
            return MachineShort{ReachFault::travel, height, from, to};
        }
    }
    return std::nullopt;
}

}  // namespace

std::optional<MachineShort> machine_short_of(const Job& job, const Pass& pass, double stickout,
                                             double clearance) {
    const Machine& machine = job.machine;
    const ToolChain& tool = job.tools.at(pass.tool);
    const double gauge = gauge_length(tool) - stickout_of(tool.cutter) + stickout;
    if (auto lacking = short_of_tilt(job, pass)) return lacking;
    if (auto lacking = short_of_travel(job, pass, gauge)) return lacking;
    if (!machine.swing_diameter && !machine.tool_change_height) return std::nullopt;
    const Outline outline = outline_of(job, pass);
    if (machine.swing_diameter && 2 * outline.radius > *machine.swing_diameter + kSlack) {
        return MachineShort{ReachFault::swing, 2 * outline.radius, 0, *machine.swing_diameter};
    }
    const double change = outline.height + clearance + gauge;
    if (machine.tool_change_height && change > *machine.tool_change_height + kSlack) {
        return MachineShort{ReachFault::tool_change, change, 0, *machine.tool_change_height};
    }
    return std::nullopt;
}

std::string machine_figures_missing(const Job& job, const Pass& pass) {
    const Machine& machine = job.machine;
    std::string what, keys;
    const auto miss = [&](const char* name, const char* key) {
        what += (what.empty() ? "" : ", ") + std::string(name);
        keys += (keys.empty() ? "" : ", ") + std::string(key);
    };
    const bool tilted_head = !machine.table_turns && std::abs(pass.tilt) > kSlack;
    if (!machine.nose_to_table) {
        miss("travel", "nose_to_table");
    } else if (tilted_head) {
        miss("travel of a tilted head", "its pivot");
    } else if (tilt_axis_needed(job, pass)) {
        miss("travel at a tilt", "tilt_axis_above_table");
    }
    if (!machine.swing_diameter) miss("swing", "swing_diameter");
    if (!machine.tool_change_height) miss("tool change", "tool_change_height");
    return what.empty() ? what : what + " (no " + keys + " given)";
}

}  // namespace standfast
