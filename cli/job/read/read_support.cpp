// [[support]]: a tailstock, jack or other prop.
#include <fmt/format.h>

#include "cli/job/read/read_joint.hpp"
#include "cli/job/read/read_quantity.hpp"
#include "cli/job/read/read_tier.hpp"

namespace standfast {
namespace {

constexpr std::string_view kStiffnessText =
    R"("80 N/um" in every direction, or a table: { lateral, vertical, tilting, twisting, loss })";

void read_stiffness(TableReader& table, Support& support) {
    const Value* const value = table.find("stiffness");
    if (value != nullptr && value->kind == ValueKind::text) {
        if (const auto all =
                quantity_of(table, "stiffness", *value, Quantity::stiffness, kStiffness)) {
            support.given.lateral = std::array{*all, *all};
            support.given.vertical = *all;
        }
        return;
    }
    if (auto numbers = table.table("stiffness", kStiffnessText)) {
        support.given = read_joint_numbers(*numbers, false);
        numbers->finish();
    }
}

Support read_support(TableReader& table, const std::vector<std::string>& tiers) {
    Support support;
    table.require("tier", "the name of the tier that it props");
    support.tier = index_of(table, "tier", tiers, "tier").value_or(0);
    table.require("at",
                  R"(where it touches, from the tier's foot, as in ["0 mm", "0 mm", "320 mm"])");
    support.at = vector(table, "at", Quantity::length, kPlace).value_or(Eigen::Vector3d::Zero());
    const Value* const against = table.find("against");
    if (against != nullptr && against->text != "table") {
        support.against = index_of(table, "against", tiers, "tier");
    }
    read_stiffness(table, support);
    const Value* const kind = table.find("kind");
    if (kind != nullptr) {
        if (const auto row = joint_kind(table, "kind", *kind, JointUse::stack)) {
            support.kind = *row;
        }
    } else if (find_entry(table.value(), "stiffness") == nullptr) {
        table.fail(
            table.value().where, fmt::format("{} is missing", table.call("kind or stiffness")),
            fmt::format(R"(kind = "tailstock" or "jack", or stiffness = {})", kStiffnessText));
    }
    return support;
}

}  // namespace

void read_supports(TableReader& root) {
    Reading& reading = root.reading();
    const std::vector<const Value*> tables = list_of_tables(root, "support");
    const std::vector<std::string> names = names_of(root, "support", tables);
    std::vector<std::string> tiers;
    for (const Tier& tier : reading.job.stack.tiers) {
        tiers.push_back(tier.name);
    }
    for (std::size_t i = 0; i < tables.size(); ++i) {
        TableReader table(reading, *tables[i],
                          {.subject = numbered("support", i, names[i]),
                           .path = fmt::format("support[{}]", i),
                           .header = "[[support]]"});
        table.text("name", "a name");
        Support support = read_support(table, tiers);
        support.name = names[i];
        if (support.against == support.tier) {
            table.fail(
                table.place("against"),
                fmt::format("{}: a tier cannot be braced against itself", table.call("against")),
                R"(another tier, or "table")");
        }
        table.finish();
        reading.job.stack.supports.push_back(std::move(support));
    }
}

}  // namespace standfast
