#include "cli/job/read/read_modes.hpp"

#include <fmt/format.h>

#include <cmath>

#include "cli/job/read/read_quantity.hpp"

namespace standfast {
namespace {

constexpr Range kFrequency{.low = 0, .above_low = true, .high = 1e6};
constexpr Range kDampingRatio{.low = 0, .above_low = true, .high = 0.99};

/// Modal mass, given outright or by stiffness / frequency^2.
double read_modal_mass(TableReader& table, AngularFrequency frequency) {
    const auto mass = quantity(table, "mass", Quantity::mass, kMass);
    const auto stiffness = quantity(table, "stiffness", Quantity::stiffness, kStiffness);
    if (mass && stiffness) {
        fail(table.reading(),
             {.where = table.place("stiffness"),
              .message = fmt::format("{} and mass are both given", table.call("stiffness")),
              .accepted = "one of them; the other follows from the frequency",
              .notes = {{table.place("mass"), "the other one"}}});
    }
    const bool neither = find_entry(table.value(), "mass") == nullptr &&
                         find_entry(table.value(), "stiffness") == nullptr;
    if (neither) {
        table.fail(table.value().where,
                   fmt::format("{} is missing", table.call("mass or stiffness")),
                   R"(mass = "0.5 kg" or stiffness = "22 N/um", of the mode)");
    }
    const double omega = frequency.radians_per_second;
    return mass ? *mass : stiffness && omega > 0 ? *stiffness / (omega * omega) : 0;
}

MeasuredMode read_mode(TableReader& table) {
    MeasuredMode mode;
    table.require("direction", R"("x", "y", "z" or three numbers, as in [0.6, 0.8, 0])");
    mode.direction = direction(table, "direction").value_or(Eigen::Vector3d::UnitX());
    mode.frequency = AngularFrequency::from_hertz(
        required_quantity(table, "frequency", Quantity::frequency, kFrequency).value_or(0));
    table.require("damping", R"(the damping ratio, as in "3 %" or 0.03)");
    mode.damping_ratio = fraction(table, "damping", kDampingRatio).value_or(0);
    mode.mass = read_modal_mass(table, mode.frequency);
    table.finish();
    return mode;
}

}  // namespace

std::vector<MeasuredMode> read_modes(TableReader& table) {
    std::vector<MeasuredMode> modes;
    const std::vector<const Value*> tables = list_of_tables(table, "modes");
    for (const Value* const value : tables) {
        TableReader reader(
            table.reading(), *value,
            {.subject = table.name().subject,
             .prefix = fmt::format("{}mode {} ", table.name().prefix, modes.size() + 1),
             .path = fmt::format("{}[{}]", table.path("modes"), modes.size()),
             .header = ""});
        modes.push_back(read_mode(reader));
    }
    return modes;
}

void read_stack(TableReader& root) {
    auto table = root.table("stack", "[stack], with single brackets");
    if (!table) {
        return;
    }
    TableReader reader(root.reading(), table->value(),
                       {.subject = "stack", .path = "stack", .header = "[stack]"});
    Stack& stack = root.reading().job.stack;
    stack.rigid = reader.truth("rigid").value_or(false);
    stack.modes = read_modes(reader);
    stack.modes_at = vector(reader, "at", Quantity::length, kPlace);
    reader.finish();
    if (stack.rigid && !stack.modes.empty()) {
        fail(root.reading(), {.where = reader.place("modes"),
                              .message = "stack: modes are given for a rigid stack",
                              .accepted = "modes or rigid = true, not both",
                              .notes = {{reader.place("rigid"), "rigid is said here"}}});
    }
}

}  // namespace standfast
