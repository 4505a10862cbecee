// Tables that other commands use: uncertainty, measurements.
#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "cli/job/read_data.hpp"
#include "cli/job/read_quantity.hpp"
#include "cli/job/read_trade.hpp"

namespace standfast {
namespace {

constexpr Range kSpread{.low = 1, .high = 100};

/// A 10-90 % factor, or a table of them by kind.
void check_spreads(TableReader& table, std::string_view key) {
    const Value* const value = table.find(key);
    if (value == nullptr) {
        return;
    }
    if (value->kind != ValueKind::table) {
        number_of(table, key, *value, kSpread);
        return;
    }
    for (const Entry& entry : value->entries) {
        number_of(table, fmt::format("{}.{}", key, entry.key.substr(0, 60)), entry.value, kSpread);
    }
}

void check_uncertainty(TableReader& root) {
    auto table = root.table("uncertainty", "[uncertainty], with single brackets");
    if (!table) {
        return;
    }
    for (const std::string_view key :
         {"joint_stiffness", "joint_loss", "table_stiffness", "spindle_stiffness",
          "taper_stiffness", "grip_stiffness", "modulus", "loss", "cutting_force"}) {
        check_spreads(*table, key);
    }
    whole_number(*table, "draws", 0, 100000);
    whole_number(*table, "seed", 0, 2147483647);
    table->finish();
}

void check_where(TableReader& table, std::string_view accepted) {
    table.require("where", accepted);
    table.text("where", accepted);
    table.require("at", R"(a place, as in ["0 mm", "0 mm", "95 mm"])");
    vector(table, "at", Quantity::length, kPlace);
    direction(table, "direction");
}

void check_push(TableReader& table) {
    required_quantity(table, "force", Quantity::force, kForce);
    required_quantity(table, "moved", Quantity::length, {.low = -0.1, .high = 0.1});
    const std::string accepted =
        R"("table", "spindle" or "floor": where the indicator's base stands)";
    const Value* const against = table.require("against", accepted);
    constexpr std::array bases{"table", "spindle", "floor"};
    if (against != nullptr && std::ranges::find(bases, against->text) == bases.end()) {
        table.reject("against", *against, accepted);
    }
}

void check_tap(TableReader& table) {
    const Range frequency{.low = 0, .above_low = true, .high = 1e6};
    table.require("frequencies", R"(a list, as in ["355 Hz", "905 Hz"])");
    quantities(table, "frequencies", Quantity::frequency, frequency, 1, 100);
    const Value* const damping = table.find("damping");
    if (damping != nullptr && damping->kind == ValueKind::array) {
        quantities(table, "damping", Quantity::percent, {.low = 0, .high = 1}, 1, 100);
    } else {
        fraction(table, "damping", {.low = 0, .high = 1});
    }
}

void check_measured_one(TableReader& table) {
    const std::string accepted = R"("push", "tap", "receptance" or "wall")";
    table.require("kind", accepted);
    const std::string kind = table.text("kind", accepted).value_or("");
    table.text("name", "a name");
    if (kind == "wall") {
        table.require("pass", "the name of a pass");
        table.text("pass", "the name of a pass");
        required_quantity(table, "top", Quantity::length, kPlace);
        required_quantity(table, "foot", Quantity::length, kPlace);
        return;
    }
    if (kind == "push" || kind == "tap" || kind == "receptance") {
        check_where(table, R"("stack" or the name of a tool)");
    }
    if (kind == "push") {
        check_push(table);
    } else if (kind == "tap") {
        check_tap(table);
    } else if (kind == "receptance") {
        table.require("file", "a file name");
        table.text("file", "a file name");
    } else if (!kind.empty()) {
        table.reject("kind", *table.find("kind"), accepted);
    }
}

void check_measured(TableReader& root) {
    std::size_t index = 0;
    for (const Value* const value : list_of_tables(root, "measured")) {
        TableReader table(root.reading(), *value,
                          {.subject = fmt::format("measured {}", index + 1),
                           .path = fmt::format("measured[{}]", index),
                           .header = "[[measured]]"});
        ++index;
        const std::size_t before = root.reading().errors.size();
        check_measured_one(table);
        // With the kind unknown, so are the keys that go with it.
        const Entry* const kind = find_entry(*value, "kind");
        if (kind != nullptr && root.reading().errors.size() == before) {
            table.finish();
        }
    }
}

}  // namespace

void read_studies(TableReader& root) {
    read_trade(root);
    check_uncertainty(root);
    check_measured(root);
}

}  // namespace standfast
