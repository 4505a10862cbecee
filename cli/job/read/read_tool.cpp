#include "cli/job/read/read_tool.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <numbers>
#include <utility>

#include "cli/job/read/read_joint.hpp"
#include "cli/job/read/read_modes.hpp"
#include "cli/job/read/read_quantity.hpp"
#include "cli/job/read/read_tier.hpp"
#include "materials/lookup_key.hpp"

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

/// Collets of one size hold up to a diameter of their own, m (ISO 15488, from memory).
void narrow_to_collet_size(const Value* given, JointKind& kind) {
    constexpr std::array<std::pair<std::string_view, double>, 5> sizes{
        {{"er16", 10e-3}, {"er20", 13e-3}, {"er25", 16e-3}, {"er32", 20e-3}, {"er40", 26e-3}}};
    if (given == nullptr || given->kind != ValueKind::text || !kind.holds) {
        return;
    }
    for (const auto& [size, greatest] : sizes) {
        if (lookup_key(given->text) == size) {
            (*kind.holds)[1] = greatest;
        }
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
    if (is_given(table.reading(), table.path("grip") + ".length") || tool.grip.solid ||
        tool.grip.kind.on_pilot) {
        return;
    }
    tool.grip_length = clamping_length(tool.cutter.shank_diameter);
    tool.grip_full = tool.grip_length;
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

/// Pilot of a bored cutter, m (ISO 6462, from memory), by its diameter.
double pilot_of(double cutter) {
    constexpr std::array<std::array<double, 2>, 6> rows{
        {{40, 16}, {63, 22}, {80, 27}, {100, 32}, {160, 40}, {1000, 60}}};
    for (const auto& [diameter, pilot] : rows) {
        if (cutter <= diameter * 1e-3 * (1 + 1e-9)) {
            return std::min(pilot * 1e-3, cutter);
        }
    }
    return 0.06;
}

/// The list's entry for a path, changed; it was made before the grip was known.
void assume_instead(Reading& reading, const std::string& path, std::optional<double> value,
                    const std::string& text) {
    for (Assumption& assumption : reading.job.assumed) {
        if (assumption.path == path) {
            assumption.value = value;
            assumption.text = text;
            assumption.source.clear();
        }
    }
}

/// A bored cutter has a pilot for a shank, and its body, of steel, reaches up to the arbor's face.
void settle_on_pilot(TableReader& table, ToolChain& tool, const std::string& named) {
    Reading& reading = table.reading();
    Cutter& cutter = tool.cutter;
    const std::string path = table.path("cutter");
    if (!tool.grip.kind.on_pilot || !cutter.segments.empty()) {
        return;
    }
    if (!is_given(reading, path + ".shank")) {
        cutter.shank_diameter = pilot_of(cutter.diameter);
        assume_instead(reading, named + ".cutter.shank", cutter.shank_diameter,
                       "the pilot of such a cutter (ISO 6462, from memory)");
    }
    const Material* const steel = find_material(reading.catalogue, "steel");
    if (!is_given(reading, path + ".material") && steel != nullptr) {
        cutter.material = *steel;
        assume_instead(reading, named + ".cutter.material", std::nullopt,
                       steel->name + ", the body of a cutter with a bore");
    }
    const double body = cutter.stickout - cutter.flute_length;
    if (!is_given(reading, path + ".neck") && body > 0) {
        cutter.neck_diameter = cutter.flute_factor * cutter.diameter;
        cutter.neck_length = body;
        assume(reading, named + ".cutter.neck", cutter.neck_diameter, Quantity::length,
               "the body above the edges, up to the arbor's face; common practice, no source");
    }
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
    tool.holder = read_steps(table, "holder");
    if (const auto speed = quantity(table, "speed_max", Quantity::rotational_speed, kSpeed)) {
        tool.speed_max = SpindleSpeed{*speed};
    }
    if (measured) {
        // Geometry beside measured modes is allowed and says nothing more about stiffness.
        table.find("grip");
        table.find("taper");
    } else {
        read_taper(table, tool, named);
        read_grip(table, tool, named + ".grip");
        if (tool.grip.kind.on_pilot && !is_given(reading, table.path("cutter") + ".shank")) {
            tool.cutter.shank_diameter = pilot_of(tool.cutter.diameter);
        }
        if (find_entry(table.value(), "holder") == nullptr) {
            assume_holder(tool, reading, named);
        }
    }
    settle_stickout(table, tool, read.gauge_length);
    settle_on_pilot(table, tool, named);
    if (!measured) {
        settle_grip_length(table, tool, named);
    }
    table.finish();
    return tool;
}

}  // namespace

void read_grip(TableReader& table, ToolChain& tool, const std::string& named) {
    SharedJoint grip = read_shared_joint(
        table, "grip", {.use = JointUse::grip, .fallback = "collet", .named = named});
    tool.grip = grip.joint;
    const Entry* const entry = find_entry(table.value(), "grip");
    const Entry* const kind = entry == nullptr ? nullptr : find_entry(entry->value, "kind");
    narrow_to_collet_size(kind != nullptr    ? &kind->value
                          : entry != nullptr ? &entry->value
                                             : nullptr,
                          tool.grip.kind);
    if (grip.table) {
        tool.grip_length = quantity(*grip.table, "length", Quantity::length, kToolSize).value_or(0);
        tool.grip_least = quantity(*grip.table, "least", Quantity::length, kToolSize);
        grip.table->finish();
    }
}

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
