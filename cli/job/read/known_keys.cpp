#include "cli/job/read/known_keys.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace standfast {

const std::vector<KnownTable>& known_tables() {
    static const std::vector<KnownTable> tables{
        {"",
         {"title", "use", "machine", "tier", "tool", "pass", "stack", "support", "material",
          "cutting", "limits", "uncertainty", "riser", "trade", "measured", "adjust"}},
        {"[machine]",
         {"kind", "taper", "speed", "tilt_max", "carry_max", "tilt_moment_max", "rotary", "table",
          "spindle", "power", "torque", "table_turns", "nose_to_table", "tilt_axis_above_table",
          "swing_diameter", "tool_change_height"}},
        {"[[tier]]",
         {"name", "material", "round", "tube", "block", "box", "section", "top", "height", "lump",
          "joint", "on", "at", "lean", "heading", "spin", "side"}},
        {"[[tool]]", {"name", "holder", "taper", "grip", "cutter", "speed_max", "modes", "rigid"}},
        {"[[pass]]", {"name",   "tool",         "tier",          "at",     "to",      "points",
                      "wall",   "feed_heading", "tilt",          "turn",   "cutting", "milling",
                      "radial", "axial",        "feed",          "speed",  "speeds",  "tolerance",
                      "leave",  "state",        "corner_radius", "length", "share"}}};
    return tables;
}

std::string landed_hint(std::string_view key, std::string_view header) {
    if (header.empty()) {
        return {};
    }
    std::vector<std::string_view> homes;
    for (const KnownTable& table : known_tables()) {
        if (table.header != header && std::ranges::find(table.keys, key) != table.keys.end()) {
            homes.push_back(table.header);
        }
    }
    if (homes.empty()) {
        return {};
    }
    const std::string why =
        fmt::format("a line belongs to the last table header above it, here {}", header);
    if (homes.front().empty()) {
        return fmt::format(R"({}: move "{}" to the top of the file, above every [table])", why,
                           key);
    }
    return fmt::format(R"({}: "{}" belongs under {})", why, key, fmt::join(homes, " or "));
}

}  // namespace standfast
