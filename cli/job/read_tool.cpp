#include "cli/job/read_tool.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <numbers>

#include "cli/job/read_joint.hpp"
#include "cli/job/read_modes.hpp"
#include "cli/job/read_quantity.hpp"
#include "cli/job/read_tier.hpp"

namespace standfast {
namespace {

constexpr Range kSpeed{.low = 0, .above_low = true, .high = 250000 * 2 * std::numbers::pi / 60};

/// Clamping length of a cylindrical shank, m (DIN 6535, as printed in tool makers' tables), the
/// next larger shank's where it lies between two.
double clamping_length(double shank) {
    constexpr std::array<std::array<double, 2>, 10> rows{{{6, 36},
                                                          {8, 36},
                                                          {10, 40},
                                                          {12, 45},
                                                          {14, 45},
                                                          {16, 48},
                                                          {18, 48},
                                                          {20, 50},
                                                          {25, 56},
                                                          {32, 60}}};
    for (const auto& [diameter, length] : rows) {
        if (shank <= diameter * 1e-3 * (1 + 1e-9)) {
            return length * 1e-3;
        }
    }
    return 2 * shank;
}

void read_grip(TableReader& table, ToolChain& tool, const std::string& named) {
    SharedJoint grip = read_shared_joint(
        table, "grip", {.use = JointUse::grip, .fallback = "collet", .named = named + ".grip"});
    tool.grip = grip.joint;
    if (grip.table) {
        tool.grip_length = quantity(*grip.table, "length", Quantity::length, kToolSize).value_or(0);
        tool.grip_least = quantity(*grip.table, "least", Quantity::length, kToolSize);
        grip.table->finish();
    }
}

void read_taper(TableReader& table, ToolChain& tool, const std::string& named) {
    Reading& reading = table.reading();
    const std::string own = reading.job.machine.spindle_kind.taper;
    SharedJoint taper = read_shared_joint(
        table, "taper", {.use = JointUse::taper, .fallback = own, .named = named + ".taper"});
    tool.taper = taper.joint;
    if (taper.table) {
        taper.table->finish();
    }
    const SpindleSide& spindle = reading.job.machine.spindle;
    if (find_entry(table.value(), "taper") == nullptr && tool.taper.kind.name.empty() &&
        !spindle.includes_taper && !is_given(reading, "machine.taper")) {
        table.fail(table.value().where, fmt::format("{} is missing", table.call("taper")),
                   R"(taper = "BT40" here or under [machine], or spindle.includes_taper = true)");
    }
}

/// How deep the shank sits in the holder, where the job does not say.
void settle_grip_length(TableReader& table, ToolChain& tool, const std::string& named) {
    if (is_given(table.reading(), table.path("grip") + ".length") || tool.grip.solid) {
        return;
    }
    tool.grip_length = clamping_length(tool.cutter.shank_diameter);
    std::string why = "clamping length of such a shank";
    std::string source = "DIN 6535";
    const std::optional<double> overall = tool.cutter.overall;
    if (overall && *overall > tool.cutter.stickout &&
        *overall - tool.cutter.stickout < tool.grip_length) {
        tool.grip_length = *overall - tool.cutter.stickout;
        why = "all of the shank that does not stick out";
        source.clear();
    }
    assume(table.reading(), named + ".grip.length", tool.grip_length, Quantity::length, why,
           source);
}

void settle_stickout(TableReader& table, ToolChain& tool, std::optional<double> gauge) {
    if (!gauge) {
        return;
    }
    double holder = 0;
    for (const HolderStep& step : tool.holder) {
        holder += step.length;
    }
    tool.cutter.stickout = *gauge - holder;
    if (tool.cutter.stickout <= 0) {
        const std::string path = table.path("cutter") + ".gauge_length";
        table.fail(
            place_of(table.reading(), path),
            fmt::format("{} is shorter than the {}holder ({})", table.call("cutter.gauge_length"),
                        tool.holder_assumed ? "typical " : "",
                        exact_text(holder, Quantity::length, UnitSystem::metric)),
            "spindle gauge line to tip, with the holder described or stickout given");
    }
}

ToolChain read_tool(TableReader& table, const std::string& name) {
    ToolChain tool;
    tool.name = name;
    Reading& reading = table.reading();
    const std::string named = named_path("tool", name);
    table.text("name", "a name");
    tool.rigid = table.truth("rigid").value_or(false);
    tool.modes = read_modes(table);
    const bool measured = tool.rigid || !tool.modes.empty();
    const ReadCutter read = read_cutter(table, named + ".cutter", measured);
    tool.cutter = read.cutter;
    tool.holder = read_holder(table);
    if (const auto speed = quantity(table, "speed_max", Quantity::rotational_speed, kSpeed)) {
        tool.speed_max = SpindleSpeed{*speed};
    }
    if (measured) {
        // Geometry beside measured modes is allowed and says nothing more about stiffness.
        table.find("grip");
        table.find("taper");
    } else {
        read_taper(table, tool, named);
        read_grip(table, tool, named);
        if (find_entry(table.value(), "holder") == nullptr) {
            assume_holder(tool, reading, named);
        }
    }
    settle_stickout(table, tool, read.gauge_length);
    if (!measured) {
        settle_grip_length(table, tool, named);
    }
    table.finish();
    return tool;
}

}  // namespace

void read_tools(TableReader& root) {
    Reading& reading = root.reading();
    const std::vector<const Value*> tables = list_of_tables(root, "tool");
    const std::vector<std::string> names = names_of(root, "tool", tables);
    if (tables.empty() && find_entry(root.value(), "tool") == nullptr) {
        root.fail(root.value().where, "[[tool]] is missing",
                  R"([[tool]] with grip = "shrink" and cutter = { diameter, teeth, stickout })");
    }
    for (std::size_t i = 0; i < tables.size(); ++i) {
        TableReader table(reading, *tables[i],
                          {.subject = numbered("tool", i, names[i]),
                           .path = fmt::format("tool[{}]", i),
                           .header = "[[tool]]"});
        reading.job.tools.push_back(read_tool(table, names[i]));
    }
}

}  // namespace standfast
