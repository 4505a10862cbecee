// What a machine's kind and taper supply, and what is then still missing.
#include <fmt/format.h>

#include <algorithm>
#include <string>
#include <vector>

#include "cli/job/check/check_job_makes_sense.hpp"
#include "cli/job/read/read_machine.hpp"
#include "fea/stack/springs.hpp"
#include "materials/catalogue.hpp"

namespace standfast {
namespace {

/// Stiffness of one row, to be listed where the job does not give its own.
struct RowStiffness {
    double lateral, vertical, tilting, twisting, loss;
    std::string source;
};

/// @param along  how the side calls its stiffness along the axis: vertical or axial
void list_assumed(Reading& reading, const std::string& path, std::string_view along,
                  const JointNumbers& given, const RowStiffness& row, const std::string& why) {
    const auto list = [&](bool is_own, std::string_view key, double value, Quantity quantity) {
        if (!is_own) {
            assume(reading, fmt::format("{}.{}", path, key), value, quantity, why, row.source);
        }
    };
    list(given.lateral.has_value(), "lateral", row.lateral, Quantity::stiffness);
    list(given.vertical.has_value(), along, row.vertical, Quantity::stiffness);
    list(given.tilting.has_value(), "tilting", row.tilting, Quantity::angular_stiffness);
    list(given.twisting.has_value(), "twisting", row.twisting, Quantity::angular_stiffness);
    list(given.loss.has_value(), "loss", row.loss, Quantity::number);
}

std::vector<std::string> missing_of(const JointNumbers& given, std::string_view along) {
    std::vector<std::string> missing;
    if (!given.lateral) {
        missing.emplace_back("lateral");
    }
    if (!given.vertical) {
        missing.emplace_back(along);
    }
    if (!given.tilting) {
        missing.emplace_back("tilting");
    }
    return missing;
}

/// Fills the two figures that a shop is least likely to have.
void fill_twisting_and_loss(Reading& reading, const std::string& path, JointNumbers& given) {
    if (!given.twisting && given.tilting) {
        given.twisting = std::min((*given.tilting)[0], (*given.tilting)[1]);
        assume(reading, path + ".twisting", *given.twisting, Quantity::angular_stiffness,
               "as stiff as in tilting; common practice, no source");
    }
    if (!given.loss) {
        given.loss = 0.04;
        assume(reading, path + ".loss", *given.loss, Quantity::number,
               "damping ratio of 2 %; common practice, no source");
    }
}

/// What moves with the table, where the job does not say.
void list_table_mass(Reading& reading) {
    const Machine& machine = reading.job.machine;
    if (!machine.table.mass && machine.kind.table_mass > 0) {
        assume(reading, "machine.table.mass", machine.kind.table_mass, Quantity::mass,
               fmt::format(R"(usual for "{}")", machine.kind.name), machine.kind.source.text);
    }
}

/// What moves with the spindle's nose, likewise.
void list_spindle_mass(Reading& reading) {
    const SpindleSide& spindle = reading.job.machine.spindle;
    const SpindleKind& kind = reading.job.machine.spindle_kind;
    if (!(kind.mass > 0) && !spindle.mass) {
        assume(reading, "machine.spindle.mass", 0, Quantity::mass,
               "no taper says how heavy its nose is: none is counted");
        return;
    }
    std::string why = fmt::format("usual for {}", kind.taper);
    if (!spindle.centre) {
        why += fmt::format(", centred {} from the gauge line", in_mm(kind.centre));
    }
    if (!spindle.mass) {
        assume(reading, "machine.spindle.mass", kind.mass, Quantity::mass, why, kind.source.text);
    }
    if (!spindle.inertia) {
        const MovingMass moving = spindle_mass(reading.job.machine);
        assume(reading, "machine.spindle.inertia", moving.inertia.x(), Quantity::inertia, why,
               kind.source.text);
    }
}

void complete_table(TableReader& root) {
    Reading& reading = root.reading();
    Machine& machine = reading.job.machine;
    const Stack& stack = reading.job.stack;
    if (machine.table.rigid || stack.rigid || !stack.modes.empty()) {
        return;
    }
    if (!machine.kind.name.empty()) {
        const MachineKind& kind = machine.kind;
        list_assumed(reading, "machine.table", "vertical", machine.table.given,
                     {kind.lateral, kind.vertical, kind.tilting, kind.twisting, kind.loss_factor,
                      kind.source.text},
                     fmt::format(R"(usual for "{}")", kind.name));
        list_table_mass(reading);
        return;
    }
    const auto missing = missing_of(machine.table.given, "vertical");
    if (!missing.empty() && !is_given(reading, "machine.kind")) {
        root.fail(place_of(reading, "machine.table"),
                  fmt::format("machine: how stiff the table is, is not known ({} missing)",
                              fmt::join(missing, ", ")),
                  "kind = ..., which supplies it, or all of them in table = { ... }");
        return;
    }
    fill_twisting_and_loss(reading, "machine.table", machine.table.given);
}

bool spindle_is_needed(const Reading& reading) {
    return !reading.job.machine.spindle.rigid &&
           std::ranges::any_of(reading.job.tools, [](const ToolChain& tool) {
               return !tool.rigid && tool.modes.empty();
           });
}

void take_spindle_of_a_tool(Reading& reading) {
    Machine& machine = reading.job.machine;
    for (const ToolChain& tool : reading.job.tools) {
        const SpindleKind* const row = find_spindle(reading.catalogue, tool.taper.kind.name);
        if (machine.spindle_kind.taper.empty() && row != nullptr) {
            machine.spindle_kind = *row;
        }
    }
}

void take_nose(Reading& reading) {
    Machine& machine = reading.job.machine;
    const SpindleKind& kind = machine.spindle_kind;
    if (machine.spindle.nose_diameter == 0 && kind.nose_diameter > 0) {
        machine.spindle.nose_diameter = kind.nose_diameter;
        machine.spindle.nose_length = kind.nose_length;
        assume(reading, "machine.spindle.nose.round", kind.nose_diameter, Quantity::length,
               fmt::format("usual for {}", kind.taper), kind.source.text);
        assume(reading, "machine.spindle.nose.length", kind.nose_length, Quantity::length,
               fmt::format("usual for {}", kind.taper), kind.source.text);
    }
}

void complete_spindle(TableReader& root) {
    Reading& reading = root.reading();
    Machine& machine = reading.job.machine;
    if (!spindle_is_needed(reading)) {
        return;
    }
    take_spindle_of_a_tool(reading);
    const SpindleKind& kind = machine.spindle_kind;
    if (kind.lateral > 0) {
        list_assumed(reading, "machine.spindle", "axial", machine.spindle.given,
                     {kind.lateral, kind.axial, kind.tilting, kind.twisting, kind.loss_factor,
                      kind.source.text},
                     fmt::format("usual for {}", kind.taper));
        list_spindle_mass(reading);
        take_nose(reading);
        return;
    }
    const auto missing = missing_of(machine.spindle.given, "axial");
    if (!missing.empty()) {
        if (!is_given(reading, "machine.taper") || !kind.taper.empty()) {
            root.fail(place_of(reading, "machine.spindle"),
                      fmt::format("machine: how stiff the spindle is, is not known ({} missing)",
                                  fmt::join(missing, ", ")),
                      R"(taper = "BT40" or another known taper, which supplies it, or all of them )"
                      "in spindle = { ... }");
        }
        return;
    }
    fill_twisting_and_loss(reading, "machine.spindle", machine.spindle.given);
    list_spindle_mass(reading);
}

/// Power and torque of the spindle where the job does not say.
void list_power(Reading& reading) {
    const Machine& machine = reading.job.machine;
    const SpindleKind& kind = machine.spindle_kind;
    const std::string why = fmt::format("usual for {}", kind.taper);
    if (!machine.power && kind.power > 0) {
        assume(reading, "machine.power", kind.power, Quantity::power, why, kind.source.text);
    }
    if (!machine.torque && kind.torque > 0) {
        assume(reading, "machine.torque", kind.torque, Quantity::torque, why, kind.source.text);
    }
}

/// What reach takes for granted, where a job lets it be judged.
void list_for_reach(Reading& reading) {
    const Job& job = reading.job;
    const bool judged =
        !job.stack.tiers.empty() && std::ranges::any_of(job.tools, [](const ToolChain& tool) {
            return !tool.holder.empty() && !tool.holder_assumed;
        });
    if (!judged) {
        return;
    }
    if (!is_given(reading, "limits.clearance")) {
        assume(reading, "limits.clearance", job.limits.clearance, Quantity::length,
               "what tool, holder and spindle keep from all that they do not cut; common practice, "
               "no source");
    }
    const Table& table = job.machine.table;
    if (table.diameter > 0 && !table.block && !is_given(reading, "machine.table.diameter")) {
        assume(reading, "machine.table.diameter", table.diameter, Quantity::length,
               fmt::format(R"(usual for "{}")", job.machine.kind.name),
               job.machine.kind.source.text);
    }
}

}  // namespace

void complete_machine(TableReader& root) {
    Reading& reading = root.reading();
    if (!is_given(reading, "machine")) {
        return;
    }
    complete_table(root);
    complete_spindle(root);
    list_power(reading);
    const Machine& machine = reading.job.machine;
    if (!machine.kind.name.empty() && machine.tilt_max && !is_given(reading, "machine.tilt_max")) {
        assume(reading, "machine.tilt_max", *machine.tilt_max, Quantity::angle,
               fmt::format(R"(usual for "{}")", machine.kind.name), machine.kind.source.text);
    }
    list_for_reach(reading);
    if (!is_given(reading, "machine.rotary")) {
        assume_text(reading, "machine.rotary", "clamped while cutting");
    }
}

}  // namespace standfast
