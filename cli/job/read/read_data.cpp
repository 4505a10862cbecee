#include "cli/job/read/read_data.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "cli/job/read/read_quantity.hpp"
#include "materials/lookup_key.hpp"

namespace standfast {
namespace {

constexpr Range kModulus{.low = 1e6, .high = 2e12};
constexpr Range kDensity{.low = 1, .high = 3e4};
constexpr Range kPoisson{.low = 0, .high = 0.499};
constexpr Range kSpecificForce{.low = 0, .high = 5e10};
constexpr Range kEdgeForce{.low = 0, .high = 1e7};
constexpr Range kRatio{.low = -2, .high = 5};
constexpr Range kSpread{.low = 1, .high = 100};
constexpr Range kSurfaceSpeed{.low = 0, .above_low = true, .high = 200};

Source source_of(TableReader& table) {
    return {
        .text = table.text("source", "where the figures come from").value_or("given in the job"),
        .provenance = Provenance::user};
}

Material read_own_material(TableReader& table, const std::string& name) {
    Material material;
    material.name = name;
    material.youngs_modulus =
        required_quantity(table, "youngs", Quantity::pressure, kModulus).value_or(0);
    table.require("poisson", "a bare number, as in 0.33");
    material.poissons_ratio = number(table, "poisson", kPoisson).value_or(0);
    material.density = required_quantity(table, "density", Quantity::density, kDensity).value_or(0);
    material.loss_factor = fraction(table, "loss", kLoss).value_or(0.001);
    material.modulus_spread = number(table, "spread", kSpread).value_or(material.modulus_spread);
    material.strength = quantity(table, "strength", Quantity::pressure,
                                 {.low = 0, .above_low = true, .high = 1e11});
    material.cutting = table.text("cutting", "the name of cutting data").value_or("");
    material.source = source_of(table);
    table.finish();
    return material;
}

bool has(const TableReader& table, std::string_view key) {
    return find_entry(table.value(), key) != nullptr;
}

std::optional<MechanisticForces> read_mechanistic(TableReader& table, bool required) {
    const auto force = [&](std::string_view key, bool needed) {
        return (needed ? required_quantity(table, key, Quantity::pressure, kSpecificForce)
                       : quantity(table, key, Quantity::pressure, kSpecificForce))
            .value_or(0);
    };
    const auto edge = [&](std::string_view key) {
        return quantity(table, key, Quantity::force_per_length, kEdgeForce).value_or(0);
    };
    MechanisticForces forces{.tangential = force("tangential", required),
                             .radial = force("radial", required),
                             .axial = force("axial", false),
                             .tangential_edge = edge("tangential_edge"),
                             .radial_edge = edge("radial_edge"),
                             .axial_edge = edge("axial_edge")};
    return has(table, "tangential") ? std::optional(forces) : std::nullopt;
}

std::optional<KienzleForces> read_kienzle(TableReader& table, bool required) {
    const Range exponent{.low = 0, .high = 0.9};
    const auto kc11 = required
                          ? required_quantity(table, "kc11", Quantity::pressure, kSpecificForce)
                          : quantity(table, "kc11", Quantity::pressure, kSpecificForce);
    if (has(table, "kc11")) {
        table.require("mc", "the exponent, a bare number, as in 0.25");
    }
    const KienzleForces forces{.kc11 = kc11.value_or(0),
                               .exponent = number(table, "mc", exponent).value_or(0),
                               .radial_ratio = number(table, "radial_ratio", kRatio).value_or(0.3),
                               .axial_ratio = number(table, "axial_ratio", kRatio).value_or(0)};
    return has(table, "kc11") ? std::optional(forces) : std::nullopt;
}

CuttingData read_own_cutting(TableReader& table, const std::string& name) {
    CuttingData data;
    data.name = name;
    const bool kienzle = has(table, "kc11");
    data.mechanistic = read_mechanistic(table, !kienzle || has(table, "tangential"));
    data.kienzle = read_kienzle(table, false);
    data.cutting_speed = window(table, "cutting_speed", Quantity::surface_speed, kSurfaceSpeed);
    data.spread = number(table, "spread", kSpread).value_or(data.spread);
    data.process_damping =
        quantity(table, "process_damping", Quantity::force_per_length, {.low = 0, .high = 1e12});
    data.source = source_of(table);
    table.finish();
    return data;
}

/// Puts a row in place of one of the same name, else at the end.
template <typename Row>
void put(std::vector<Row>& rows, Row row) {
    const std::string key = lookup_key(row.name);
    const auto same = [&](const Row& old) { return lookup_key(old.name) == key; };
    const auto answers = [&](const std::string& alias) { return lookup_key(alias) == key; };
    for (Row& old : rows) {
        std::erase_if(old.aliases, answers);  // the job's own name wins over an alias
    }
    const auto found = std::ranges::find_if(rows, same);
    if (found == rows.end()) {
        rows.push_back(std::move(row));
    } else {
        *found = std::move(row);
    }
}

template <typename Row, typename Read>
void read_named_tables(TableReader& root, std::string_view kind, std::vector<Row>& rows,
                       const Read& read) {
    const auto tables =
        root.table(kind, fmt::format(R"([{}."name"] with the data of one {})", kind, kind));
    if (!tables) {
        return;
    }
    for (const Entry& entry : tables->value().entries) {
        const std::string subject = fmt::format(R"({} "{}")", kind, entry.key.substr(0, 60));
        if (entry.value.kind != ValueKind::table) {
            root.fail(entry.where,
                      fmt::format("{}: this is {}, not a table", subject, in_words(entry.value)),
                      fmt::format(R"([{}."name"], with the name in quotes, and the data below it)",
                                  kind));
            continue;
        }
        TableReader table(root.reading(), entry.value,
                          {.subject = subject,
                           .path = fmt::format(R"({}."{}")", kind, entry.key),
                           .header = fmt::format(R"([{}."{}"])", kind, entry.key.substr(0, 60))});
        put(rows, read(table, entry.key));
    }
}

}  // namespace

void read_data(TableReader& root) {
    Catalogue& catalogue = root.reading().catalogue;
    read_named_tables(root, "material", catalogue.materials, read_own_material);
    read_named_tables(root, "cutting", catalogue.cutting, read_own_cutting);
}

}  // namespace standfast
