#include "cli/job/read/read_tier.hpp"

#include <fmt/format.h>

#include "cli/job/read/read_joint.hpp"
#include "cli/job/read/read_lump.hpp"
#include "cli/job/read/read_quantity.hpp"
#include "cli/job/read/read_shape.hpp"

namespace standfast {
namespace {

/// The host of a tier: the one it names, else the one before it, else the table.
std::optional<std::size_t> read_host(TableReader& table, std::size_t index,
                                     const std::vector<std::string>& names) {
    const std::optional<std::size_t> before = index == 0 ? std::nullopt : std::optional(index - 1);
    const Value* const on = table.find("on");
    if (on == nullptr) {
        return before;
    }
    if (on->text == "table") {
        return std::nullopt;
    }
    const auto host = index_of(table, "on", names, "tier");
    if (!host) {
        return before;
    }
    if (*host >= index) {
        Diagnostic fault{
            .where = on->where,
            .message = *host == index
                           ? fmt::format("{}: a tier cannot stand on itself", table.call("on"))
                           : fmt::format(R"({}: "{}" comes after the tier that stands on it)",
                                         table.call("on"), names[*host]),
            .accepted = "a tier described further up; tiers are listed from the table up"};
        if (*host > index) {
            fault.notes.push_back(
                {place_of(table.reading(), fmt::format("tier[{}]", *host)), "the tier it names"});
        }
        fail(table.reading(), std::move(fault));
        return before;
    }
    return host;
}

Placement read_placement(TableReader& table, std::size_t index,
                         const std::vector<std::string>& names) {
    Placement placement{.host = read_host(table, index, names),
                        .at = vector(table, "at", Quantity::length, kPlace)};
    placement.lean = quantity(table, "lean", Quantity::angle, kTurn).value_or(0);
    placement.heading = quantity(table, "heading", Quantity::angle, kTurn).value_or(0);
    placement.spin = quantity(table, "spin", Quantity::angle, kTurn).value_or(0);
    return placement;
}

std::vector<SideMass> read_side(TableReader& tier) {
    std::vector<SideMass> side;
    for (const Value* const value : list_of_tables(tier, "side")) {
        const std::string path = fmt::format("{}[{}]", tier.path("side"), side.size());
        TableReader table(tier.reading(), *value,
                          {.subject = tier.name().subject,
                           .prefix = fmt::format("side {}: ", side.size() + 1),
                           .path = path,
                           .header = "[[tier.side]]"});
        SideMass mass{
            .name = table.text("name", "a name").value_or(fmt::format("side {}", side.size() + 1))};
        mass.mass = required_quantity(table, "mass", Quantity::mass, kMass).value_or(0);
        table.require("at", R"(its centre from the tier's foot, as in ["60 mm", "0 mm", "20 mm"])");
        mass.at = vector(table, "at", Quantity::length, kPlace).value_or(Eigen::Vector3d::Zero());
        mass.size =
            vector(table, "size", Quantity::length, kNotNegative).value_or(Eigen::Vector3d::Zero());
        table.finish();
        side.push_back(std::move(mass));
    }
    return side;
}

Tier read_tier(TableReader& table, std::size_t index, const std::vector<std::string>& names) {
    Tier tier;
    tier.name = names[index];
    table.text("name", "a name");
    tier.lump = read_lump(table);
    if (!tier.lump) {
        table.require("material", R"(a material's name, as in "steel" or "6061")");
    }
    tier.material = read_material(table, "material", "steel");
    const auto shape = read_shape(table, !tier.lump);
    tier.shape = shape.value_or(tier.lump ? SectionShape(BlockShape{0.1, 0.1}) : tier.shape);
    if (shape) {
        tier.top = read_top(table, *shape);
    } else {
        table.find("top");
    }
    const auto height = tier.lump ? quantity(table, "height", Quantity::length, kSize)
                                  : required_quantity(table, "height", Quantity::length, kSize);
    tier.height = height.value_or(tier.lump ? std::max(2 * tier.lump->centre.z(), 0.0) : 0);
    tier.placement = read_placement(table, index, names);
    tier.joint = read_stack_joint(table, tier.shape, named_path("tier", tier.name) + ".joint");
    tier.side = read_side(table);
    table.finish();
    return tier;
}

}  // namespace

void read_tiers(TableReader& root) {
    Reading& reading = root.reading();
    const std::vector<const Value*> tables = list_of_tables(root, "tier");
    const std::vector<std::string> names = names_of(root, "tier", tables);
    for (std::size_t i = 0; i < tables.size(); ++i) {
        reading.places.insert_or_assign(fmt::format("tier[{}]", i), tables[i]->where);
    }
    for (std::size_t i = 0; i < tables.size(); ++i) {
        TableReader table(reading, *tables[i],
                          {.subject = numbered("tier", i, names[i]),
                           .path = fmt::format("tier[{}]", i),
                           .header = "[[tier]]"});
        reading.job.stack.tiers.push_back(read_tier(table, i, names));
    }
}

}  // namespace standfast
