#include "cli/job/read/read_machine.hpp"

#include <fmt/format.h>

#include <numbers>

#include "cli/job/read/read_joint.hpp"
#include "cli/job/read/read_quantity.hpp"
#include "materials/nearest_name.hpp"

namespace standfast {
namespace {

constexpr Range kSpeed{.low = 0, .above_low = true, .high = 250000 * 2 * std::numbers::pi / 60};
constexpr Range kTiltMax{.low = 0, .high = std::numbers::pi};
constexpr Range kHeight{.low = 0, .high = 10};
constexpr Range kOffset{.low = -2, .high = 2};
constexpr Range kPower{.low = 0, .above_low = true, .high = 1e6};
constexpr Range kMoment{.low = 0, .above_low = true, .high = 1e6};

void read_kind(TableReader& table, Machine& machine) {
    const Catalogue& catalogue = table.reading().catalogue;
    const std::vector<std::string> names = machine_names(catalogue);
    std::string accepted;
    for (const MachineKind& row : catalogue.machines) {
        accepted += fmt::format(R"({}"{}")", accepted.empty() ? "" : ", ", row.name);
    }
    const auto kind = table.text("kind", accepted);
    if (!kind) {
        return;
    }
    if (const MachineKind* const row = find_machine(catalogue, *kind)) {
        machine.kind = *row;
        machine.table_turns = row->table_turns;
        machine.table.diameter = row->table_diameter;
        machine.tilt_max = row->tilt_max;
        return;
    }
    const auto near = nearest_name(*kind, names);
    table.reject("kind", *table.find("kind"), accepted,
                 near ? fmt::format(R"(did you mean "{}"?)", *near) : std::string());
}

void read_taper(TableReader& table, Machine& machine) {
    const Value* const value = table.find("taper");
    if (value == nullptr) {
        return;
    }
    if (const auto row = joint_kind(table, "taper", *value, JointUse::taper)) {
        if (const SpindleKind* const spindle = find_spindle(table.reading().catalogue, row->name)) {
            machine.spindle_kind = *spindle;
        } else {
            machine.spindle_kind.taper = row->name;
        }
    }
}

/// True where the key says "rigid" instead of a table.
bool says_rigid(TableReader& table, std::string_view key) {
    const Value* const value = table.find(key);
    return value != nullptr && value->kind == ValueKind::text && value->text == "rigid";
}

/// A rectangular face instead of a round one.
void read_block(TableReader& reader, Table& table) {
    if (const auto block = quantities(reader, "block", Quantity::length, kSize, 2, 2)) {
        table.block = {(*block)[0], (*block)[1]};
    }
    if (reader.find("diameter") != nullptr && reader.find("block") != nullptr) {
        fail(reader.reading(),
             {.where = reader.place("block"),
              .message = fmt::format("{} and diameter are both given", reader.call("block")),
              .accepted = "diameter of a round face or block of a rectangular one, not both",
              .notes = {{reader.place("diameter"), "the other one"}}});
    }
}

void read_table(TableReader& machine_table, Table& table) {
    if ((table.rigid = says_rigid(machine_table, "table"))) {
        return;
    }
    auto reader = machine_table.table(
        "table", R"("rigid" or a table: { lateral, vertical, tilting, twisting, loss, ... })");
    if (!reader) {
        return;
    }
    table.given = read_joint_numbers(*reader, false);
    table.mass = quantity(*reader, "mass", Quantity::mass, {.low = 0, .high = 1e5});
    if (const auto diameter = quantity(*reader, "diameter", Quantity::length, kSize)) {
        table.diameter = *diameter;
    }
    read_block(*reader, table);
    reader->finish();
}

void read_nose(TableReader& spindle_table, SpindleSide& spindle) {
    auto nose = spindle_table.table("nose", R"(a table: { round = "80 mm", length = "160 mm" })");
    if (!nose) {
        return;
    }
    spindle.nose_diameter =
        required_quantity(*nose, "round", Quantity::length, kToolSize).value_or(0);
    spindle.nose_length =
        required_quantity(*nose, "length", Quantity::length, kToolSize).value_or(0);
    nose->finish();
}

void read_spindle(TableReader& machine_table, SpindleSide& spindle) {
    if ((spindle.rigid = says_rigid(machine_table, "spindle"))) {
        return;
    }
    auto reader = machine_table.table(
        "spindle",
        R"("rigid" or a table: { lateral, axial, tilting, twisting, loss, mass, inertia, nose })");
    if (!reader) {
        return;
    }
    spindle.given = read_joint_numbers(*reader, true);
    spindle.mass = quantity(*reader, "mass", Quantity::mass, {.low = 0, .high = 1e3});
    spindle.inertia = quantity(*reader, "inertia", Quantity::inertia, {.low = 0, .high = 100});
    spindle.centre = quantity(*reader, "centre", Quantity::length, {.low = 0, .high = 1});
    spindle.includes_taper = reader->truth("includes_taper").value_or(false);
    read_nose(*reader, spindle);
    reader->finish();
}

void read_speed(TableReader& table, Machine& machine) {
    const std::string accepted = R"(two spindle speeds, as in ["500 rpm", "12000 rpm"])";
    if (table.require("speed", accepted) == nullptr) {
        return;
    }
    if (const auto range = window(table, "speed", Quantity::rotational_speed, kSpeed)) {
        machine.slowest = {(*range)[0]};
        machine.fastest = {(*range)[1]};
    }
}

void read_rotary(TableReader& table, Machine& machine) {
    const auto rotary = table.text("rotary", R"("clamped" or "moving")");
    machine.rotary_moving = rotary == "moving";
    if (rotary && *rotary != "moving" && *rotary != "clamped") {
        table.reject("rotary", *table.find("rotary"), R"("clamped" or "moving")");
    }
}

/// How far the machine goes; every key may be left out.
void read_room(TableReader& table, Machine& machine) {
    machine.nose_to_table = window(table, "nose_to_table", Quantity::length, kHeight);
    machine.tilt_axis_above_table =
        quantity(table, "tilt_axis_above_table", Quantity::length, kOffset);
    machine.swing_diameter = quantity(table, "swing_diameter", Quantity::length, kSize);
    machine.tool_change_height = quantity(table, "tool_change_height", Quantity::length, kSize);
}

}  // namespace

void read_machine(TableReader& root) {
    const std::string accepted =
        R"([machine] with kind, taper and speed; "standfast new" writes a job to start from)";
    if (root.find("machine") == nullptr) {
        root.fail(root.value().where, "[machine] is missing", accepted);
        return;
    }
    auto table = root.table("machine", "[machine], with single brackets");
    if (!table) {
        return;
    }
    TableReader reader(root.reading(), table->value(),
                       {.subject = "machine", .path = "machine", .header = "[machine]"});
    Machine& machine = root.reading().job.machine;
    read_kind(reader, machine);
    read_taper(reader, machine);
    read_speed(reader, machine);
    read_table(reader, machine.table);
    read_spindle(reader, machine.spindle);
    read_rotary(reader, machine);
    if (const auto tilt = quantity(reader, "tilt_max", Quantity::angle, kTiltMax)) {
        machine.tilt_max = tilt;
    }
    machine.table_turns = reader.truth("table_turns").value_or(machine.table_turns);
    machine.carry_max = quantity(reader, "carry_max", Quantity::mass, kMass);
    machine.tilt_moment_max = quantity(reader, "tilt_moment_max", Quantity::torque, kMoment);
    machine.power = quantity(reader, "power", Quantity::power, kPower);
    machine.torque = quantity(reader, "torque", Quantity::torque, kMoment);
    read_room(reader, machine);
    reader.finish();
}

}  // namespace standfast
