#include "cli/job/read/read_trade.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "cli/job/read/read_joint.hpp"
#include "cli/job/read/read_quantity.hpp"
#include "cli/job/read/read_shape.hpp"
#include "cli/job/read/read_tier.hpp"
#include "cli/job/read/read_tool.hpp"
#include "materials/nearest_name.hpp"

namespace standfast {
namespace {

constexpr std::size_t kMostValues = 200;

template <typename Named>
std::vector<std::string> names_in(const std::vector<Named>& list) {
    std::vector<std::string> names;
    for (const Named& one : list) {
        names.push_back(one.name);
    }
    return names;
}

ShelfRiser read_riser(TableReader& table, const std::string& name) {
    ShelfRiser riser;
    riser.name = name;
    table.text("name", "a name");
    const auto shape = read_shape(table, true);
    riser.shape = shape.value_or(riser.shape);
    if (shape) {
        riser.top = read_top(table, *shape);
    } else {
        table.find("top");
    }
    riser.height = required_quantity(table, "height", Quantity::length, kSize).value_or(0);
    table.require("material", R"(a material's name, as in "steel")");
    riser.material = read_material(table, "material", "steel");
    if (find_entry(table.value(), "joint") != nullptr) {
        riser.joint = read_stack_joint(table, riser.shape, named_path("riser", name) + ".joint");
    }
    table.finish();
    return riser;
}

void read_shelf(TableReader& root) {
    Reading& reading = root.reading();
    const std::vector<const Value*> tables = list_of_tables(root, "riser");
    const std::vector<std::string> names = names_of(root, "riser", tables);
    for (std::size_t i = 0; i < tables.size(); ++i) {
        TableReader table(reading, *tables[i],
                          {.subject = numbered("riser", i, names[i]),
                           .path = fmt::format("riser[{}]", i),
                           .header = "[[riser]]"});
        reading.job.shelf.push_back(read_riser(table, names[i]));
    }
}

/// What a list of values is read as.
struct Listed {
    Quantity quantity = Quantity::length;
    Range range;
    std::string_view accepted;
};

constexpr std::string_view kLengths =
    R"(a list, as in ["100 mm", "150 mm"], or steps, as in "60 mm to 200 mm by 20 mm")";
constexpr std::string_view kAngles =
    R"(a list, as in ["0 deg", "15 deg"], or steps, as in "0 deg to 30 deg by 5 deg")";

Listed lengths(const Range& range) {
    return {.quantity = Quantity::length, .range = range, .accepted = kLengths};
}

/// "60 mm to 200 mm by 20 mm", both ends included where the step meets them.
std::optional<std::vector<double>> steps_of(TableReader& table, std::string_view key,
                                            const Value& value, const Listed& as) {
    const std::string accepted(as.accepted);
    const std::size_t to = value.text.find(" to ");
    const std::size_t by = value.text.find(" by ");
    if (to == std::string::npos || by == std::string::npos || by < to) {
        table.reject(key, value, accepted);
        return std::nullopt;
    }
    std::vector<double> parts;
    for (const std::string& text :
         {value.text.substr(0, to), value.text.substr(to + 4, by - to - 4),
          value.text.substr(by + 4)}) {
        Value part = value;
        part.text = text;
        const auto read = quantity_of(table, key, part, as.quantity, as.range);
        if (!read) {
            return std::nullopt;
        }
        parts.push_back(*read);
    }
    // A step that meets the end only up to rounding still includes it.
    const double count = std::floor((parts[1] - parts[0]) / parts[2] + 1e-9) + 1;
    if (!(parts[2] > 0)) {
        table.reject(key, value, accepted, "a step greater than nothing");
        return std::nullopt;
    }
    if (!(count >= 1) || count > static_cast<double>(kMostValues)) {
        table.reject(key, value, accepted,
                     count < 1 ? "the first is above the last"
                               : fmt::format("at most {} values", kMostValues));
        return std::nullopt;
    }
    std::vector<double> values;
    for (std::size_t i = 0; i < static_cast<std::size_t>(count); ++i) {
        values.push_back(parts[0] + static_cast<double>(i) * parts[2]);
    }
    return values;
}

std::vector<double> values_of(TableReader& table, std::string_view key, const Value& value,
                              const Listed& as) {
    std::optional<std::vector<double>> values =
        value.kind == ValueKind::text
            ? steps_of(table, key, value, as)
            : quantities_of(table, key, value, as.quantity, as.range, 1, kMostValues);
    std::vector<double> list = values.value_or(std::vector<double>{});
    std::sort(list.begin(), list.end());
    list.erase(std::unique(list.begin(), list.end()), list.end());
    return list;
}

/// A row of the shelf by name.
/// @param header  "[[riser]]", of what stands there
std::optional<std::size_t> on_shelf(TableReader& table, std::string_view key, const Value& value,
                                    const std::vector<std::string>& names,
                                    std::string_view header) {
    const auto found = std::ranges::find(names, value.text);
    if (value.kind == ValueKind::text && found != names.end()) {
        return static_cast<std::size_t>(found - names.begin());
    }
    const auto near = nearest_name(value.text, names);
    table.reject(
        key, value,
        names.empty()
            ? fmt::format("the name of a {}; the shelf is empty: this job has none", header)
            : fmt::format("the name of a {} on the shelf", header),
        near ? fmt::format(R"(did you mean "{}"?)", *near) : std::string());
    return std::nullopt;
}

void read_risers(TableReader& table, Trade& trade) {
    const Value* const value = table.find("risers");
    if (value == nullptr) {
        return;
    }
    if (value->kind != ValueKind::array || value->items.empty() ||
        value->items.size() > kMostValues) {
        table.reject("risers", *value,
                     R"(a list of names from the shelf, as in ["short", ["spacer", "short"]])",
                     value->items.empty() ? "left out, each [[riser]] is tried alone" : "");
        return;
    }
    for (const Value& item : value->items) {
        const bool stacked = item.kind == ValueKind::array && !item.items.empty();
        std::vector<std::size_t> rows;
        for (const Value& name : stacked ? item.items : std::vector<Value>{item}) {
            if (const auto row = on_shelf(table, "risers", name,
                                          names_in(table.reading().job.shelf), "[[riser]]")) {
                rows.push_back(*row);
            }
        }
        if (!rows.empty()) {
            trade.risers.push_back(std::move(rows));
        }
    }
}

void read_stickouts(TableReader& table, Trade& trade) {
    const Value* const value = table.find("stickouts");
    if (value == nullptr) {
        return;
    }
    if (value->kind != ValueKind::table) {
        trade.stickouts = values_of(table, "stickouts", *value, lengths(kToolSize));
        return;
    }
    auto by_tool = table.table("stickouts", "a list, steps or a table by tool");
    const std::vector<std::string> tools = names_in(table.reading().job.tools);
    for (std::size_t tool = 0; by_tool && tool < tools.size(); ++tool) {
        if (const Value* const own = by_tool->find(tools[tool])) {
            trade.by_tool.push_back(
                {.tool = tool,
                 .stickouts = values_of(*by_tool, tools[tool], *own, lengths(kToolSize))});
        }
    }
    if (by_tool) {
        by_tool->finish();
    }
}

/// tilts = { "PASS" = "0 deg to 30 deg by 5 deg" }.
void read_tilts(TableReader& table, Trade& trade) {
    auto by_pass =
        table.table("tilts", R"(a table by pass: { "PASS" = "0 deg to 30 deg by 5 deg" })");
    if (!by_pass) {
        return;
    }
    for (const std::string& pass : names_in(table.reading().job.passes)) {
        if (const Value* const own = by_pass->find(pass)) {
            trade.tilts.push_back(
                {.pass = pass,
                 .tilts = values_of(
                     *by_pass, pass, *own,
                     {.quantity = Quantity::angle, .range = kTurn, .accepted = kAngles})});
        }
    }
    by_pass->finish();
}

/// holders = { "TOOL" = ["name", ...] }, names of the shelf.
void read_holders(TableReader& table, Trade& trade) {
    auto by_tool = table.table("holders", R"(a table by tool: { "TOOL" = ["slim", "short"] })");
    if (!by_tool) {
        return;
    }
    const Job& job = table.reading().job;
    const std::vector<std::string> tools = names_in(job.tools), shelf = names_in(job.holders);
    for (std::size_t tool = 0; tool < tools.size(); ++tool) {
        const Value* const own = by_tool->find(tools[tool]);
        if (own == nullptr) {
            continue;
        }
        if (own->kind != ValueKind::array || own->items.empty() ||
            own->items.size() > kMostValues) {
            by_tool->reject(tools[tool], *own, R"(a list of names from the shelf, as in ["slim"])");
            continue;
        }
        ToolHolders holders{.tool = tool, .holders = {}};
        for (const Value& name : own->items) {
            if (const auto row = on_shelf(*by_tool, tools[tool], name, shelf, "[[holder]]")) {
                holders.holders.push_back(*row);
            }
        }
        trade.holders.push_back(std::move(holders));
    }
    by_tool->finish();
}

void read_materials(TableReader& table, Trade& trade) {
    const Value* const value = table.find("materials");
    if (value == nullptr) {
        return;
    }
    if (value->kind != ValueKind::array || value->items.empty() ||
        value->items.size() > kMostValues) {
        table.reject("materials", *value, R"(a list of materials, as in ["steel", "6061"])");
        return;
    }
    for (const Value& name : value->items) {
        if (auto material = material_of(table, "materials", name)) {
            trade.materials.push_back(std::move(*material));
        }
    }
}

TradeHold read_hold(TableReader& table, const std::string& name) {
    const Stack& stack = table.reading().job.stack;
    TradeHold hold;
    hold.name = name;
    table.text("name", "a name");
    hold.tier = stack.tiers.empty() ? 0 : stack.tiers.size() - 1;
    if (find_entry(table.value(), "tier") != nullptr) {
        hold.tier = index_of(table, "tier", names_in(stack.tiers), "tier").value_or(hold.tier);
    }
    hold.shape = read_shape(table, false);
    hold.height = quantity(table, "height", Quantity::length, kSize);
    if (find_entry(table.value(), "material") != nullptr) {
        hold.material = read_material(table, "material", "steel");
    }
    if (find_entry(table.value(), "joint") != nullptr && hold.tier < stack.tiers.size()) {
        hold.joint = read_stack_joint(table, hold.shape.value_or(stack.tiers[hold.tier].shape),
                                      named_path("hold", name) + ".joint");
    } else {
        table.find("joint");
    }
    if (!hold.joint && !hold.shape && !hold.height && !hold.material) {
        table.fail(table.value().where, fmt::format("{} changes nothing", table.name().subject),
                   "a joint, a section, a height or a material that differs from the job's");
    }
    table.finish();
    return hold;
}

}  // namespace

void read_trade(TableReader& root) {
    read_shelf(root);
    read_shelf_holders(root);
    Reading& reading = root.reading();
    auto table = root.table("trade", "[trade], with single brackets");
    if (!table) {
        return;
    }
    Trade trade;
    trade.tier = index_of(*table, "tier", names_in(reading.job.stack.tiers), "tier");
    if (const Value* const heights = table->find("heights")) {
        trade.heights = values_of(*table, "heights", *heights, lengths(kSize));
    }
    read_risers(*table, trade);
    read_stickouts(*table, trade);
    read_tilts(*table, trade);
    read_holders(*table, trade);
    read_materials(*table, trade);
    const std::vector<const Value*> holds = list_of_tables(*table, "hold");
    const std::vector<std::string> names = names_of(*table, "hold", holds);
    for (std::size_t i = 0; i < holds.size(); ++i) {
        TableReader one(reading, *holds[i],
                        {.subject = numbered("hold", i, names[i]),
                         .path = fmt::format("trade.hold[{}]", i),
                         .header = "[[trade.hold]]"});
        trade.holds.push_back(read_hold(one, names[i]));
    }
    table->finish();
    reading.job.trade = std::move(trade);
}

}  // namespace standfast
