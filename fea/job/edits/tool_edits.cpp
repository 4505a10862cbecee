#include "fea/job/edits/tool_edits.hpp"

#include <algorithm>
#include <stdexcept>
#include <string>

#include "fea/quantities/require.hpp"

namespace standfast {
namespace {

constexpr double kSlack = 1e-6;  // m; what rounding between inch and mm may leave

std::string named(const ToolChain& tool) { return "tool \"" + tool.name + "\""; }

/// Shank inside the holder, m; none: the overall length is not known, a pilot holds the cutter, or
/// it is one piece with its holder.
std::optional<double> inside(const ToolChain& tool) {
    if (!tool.cutter.overall || tool.grip.kind.on_pilot || tool.grip.solid) return std::nullopt;
    return *tool.cutter.overall - stickout_of(tool.cutter);
}

void grip_what_is_left(ToolChain& tool) {
    const std::optional<double> left = inside(tool);
    if (!left) return;
    require_positive(*left, named(tool), "shank left in the grip, m (overall less stickout),");
    tool.grip_length = std::min(tool.grip_full.value_or(tool.grip_length), *left);
}

void require_shank_held(const ToolChain& tool, const std::string& holder) {
    const double shank = tool.cutter.shank_diameter;
    if (!tool.grip.kind.holds || tool.grip.solid || !(shank > 0)) return;
    const auto [least, most] = *tool.grip.kind.holds;
    if (shank < least - kSlack || shank > most + kSlack) {
        throw std::domain_error("holder \"" + holder + "\" does not take the shank of " +
                                named(tool));
    }
}

}  // namespace

ToolChain with_stickout(ToolChain tool, double stickout) {
    Cutter& cutter = tool.cutter;
    if (!cutter.segments.empty()) {
        CutterSegment& uppermost = cutter.segments.front();
        uppermost.length += stickout - stickout_of(cutter);
        require_not_negative(uppermost.length, named(tool),
                             "length of the uppermost segment at this stickout, m,");
    }
    cutter.stickout = stickout;
    grip_what_is_left(tool);
    return tool;
}

ToolChain with_holder(ToolChain tool, const ShelfHolder& holder) {
    tool.holder = holder.steps;
    tool.holder_assumed = false;
    if (holder.grip) tool.grip = *holder.grip;
    if (holder.grip_length) {
        tool.grip_full = holder.grip_length;
        tool.grip_length = *holder.grip_length;
    }
    if (holder.grip_least) tool.grip_least = holder.grip_least;
    require_shank_held(tool, holder.name);
    grip_what_is_left(tool);
    if (const auto left = inside(tool); left && *left < tool.grip_least.value_or(0) - kSlack) {
        throw std::domain_error("holder \"" + holder.name + "\" would grip too little of " +
                                named(tool) + " at this stickout");
    }
    return tool;
}

}  // namespace standfast
