#include "cli/job/read/measured_place.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <stdexcept>

#include "cli/job/read/read_quantity.hpp"
#include "cli/job/read/read_tier.hpp"
#include "fea/stack/stack_model.hpp"

namespace standfast {
namespace {

std::vector<std::string> tool_names(const Job& job) {
    std::vector<std::string> names;
    for (const ToolChain& tool : job.tools) {
        names.push_back(tool.name);
    }
    return names;
}

std::vector<std::string> tier_names(const Job& job) {
    std::vector<std::string> names;
    for (const Tier& tier : job.stack.tiers) {
        names.push_back(tier.name);
    }
    return names;
}

/// The tier that a place in stack axes lies on: of those at its height the one whose axis is
/// nearest; that tier's own axes then.
MeasuredPlace on_stack(TableReader& table, const PlaceKeys& keys, const Eigen::Vector3d& at) {
    const Stack& stack = table.reading().job.stack;
    MeasuredPlace place;
    double least = 1e9;
    std::vector<TierFrame> frames;
    try {
        frames = tier_frames(stack);
    } catch (const std::domain_error&) {
        return place;  // reported where the tier stands
    }
    for (std::size_t tier = 0; tier < frames.size(); ++tier) {
        const Eigen::Vector3d local = frames[tier].axes.transpose() * (at - frames[tier].foot);
        const bool beside = local.z() < -1e-6 || local.z() > stack.tiers[tier].height + 1e-6;
        if (!beside && local.head<2>().norm() < least) {
            least = local.head<2>().norm();
            place.tier = tier;
            place.at = local;
            place.at.z() = std::clamp(local.z(), 0.0, stack.tiers[tier].height);
        }
    }
    if (least > 1e8) {
        table.fail(table.place(keys.at),
                   fmt::format("{}: no tier of the stack is at this height", table.call(keys.at)),
                   "a place on the stack, from the middle of the table under the lowest tier; with "
                   "tier = \"name\", from that tier's foot");
    }
    return place;
}

}  // namespace

MeasuredPlace read_place(TableReader& table, std::optional<std::size_t> tool,
                         const PlaceKeys& keys) {
    const Job& job = table.reading().job;
    const auto at = vector(table, keys.at, Quantity::length, kPlace);
    const auto tier = index_of(table, keys.tier, tier_names(job), "tier");
    if (tool) {
        if (tier) {
            table.fail(table.place(keys.tier),
                       fmt::format("{} is given for a tool", table.call(keys.tier)),
                       "a tier only where the stack is measured");
        }
        return {.tool = tool, .at = at.value_or(Eigen::Vector3d::Zero())};
    }
    if (job.stack.tiers.empty()) {
        return {};
    }
    if (!tier && at) {
        return on_stack(table, keys, *at);
    }
    MeasuredPlace place{.tier = tier.value_or(job.stack.tiers.size() - 1)};
    const double height = job.stack.tiers[place.tier].height;
    place.at = at.value_or(Eigen::Vector3d(0, 0, height));
    if (place.at.z() < -1e-9 || place.at.z() > height + 1e-9) {
        table.fail(table.place(keys.at),
                   fmt::format("{} is {:.4g} mm up a tier of {:.4g} mm", table.call(keys.at),
                               place.at.z() * 1e3, height * 1e3),
                   "a place on the tier, from its foot");
    }
    place.at.z() = std::clamp(place.at.z(), 0.0, height);
    return place;
}

std::optional<std::size_t> read_where(TableReader& table) {
    table.require("where", R"("stack" or the name of a tool)");
    const Value* const value = table.find("where");
    if (value == nullptr || value->text == "stack") {
        return std::nullopt;
    }
    return index_of(table, "where", tool_names(table.reading().job), "tool (or \"stack\")");
}

Eigen::Vector3d required_direction(TableReader& table) {
    table.require("direction", R"("x", "-y" or three numbers, as in [0.6, 0.8, 0])");
    return direction(table, "direction").value_or(Eigen::Vector3d::UnitX()).normalized();
}

}  // namespace standfast
