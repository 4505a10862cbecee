// Tables that other commands use: uncertainty, measurements.
#include <fmt/format.h>

#include <algorithm>

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

}  // namespace

void read_studies(TableReader& root) {
    read_trade(root);
    check_uncertainty(root);
}

}  // namespace standfast
