// [uncertainty]: how well things are known, where the job knows better than the catalogue.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <string_view>

#include "cli/job/read/read_data.hpp"
#include "cli/job/read/read_quantity.hpp"
#include "materials/nearest_name.hpp"

namespace standfast {
namespace {

constexpr Range kSpread{.low = 1, .high = 100};
constexpr Range kSetting{.low = 0, .high = 0.02};  // m

/// The name of a row as the model calls it, from any name a job may use; none: no such row.
using Naming = std::optional<std::string> (*)(const Reading& reading, const std::string& name);
using Known = std::vector<std::string> (*)(const Reading& reading);

template <typename Row>
std::optional<std::string> name_of(const Row* row) {
    return row == nullptr ? std::nullopt : std::optional<std::string>(row->name);
}

template <JointUse use>
std::optional<std::string> joint_called(const Reading& reading, const std::string& name) {
    return name == "given" ? std::optional<std::string>(name)
                           : name_of(find_joint(reading.catalogue, name, use));
}

template <JointUse use>
std::vector<std::string> joints_known(const Reading& reading) {
    std::vector<std::string> names = joint_names(reading.catalogue, use);
    names.emplace_back("given");
    return names;
}

std::optional<std::string> any_spring_called(const Reading& reading, const std::string& name) {
    if (name == "table" || name == "spindle" || name == "not said") {
        return name;
    }
    for (const Naming called : {joint_called<JointUse::stack>, joint_called<JointUse::taper>,
                                joint_called<JointUse::grip>}) {
        if (const auto found = called(reading, name)) {
            return found;
        }
    }
    return std::nullopt;
}

std::vector<std::string> springs_known(const Reading& reading) {
    std::vector<std::string> names = joints_known<JointUse::stack>(reading);
    for (const auto& more : {joint_names(reading.catalogue, JointUse::taper),
                             joint_names(reading.catalogue, JointUse::grip)}) {
        names.insert(names.end(), more.begin(), more.end());
    }
    names.insert(names.end(), {"table", "spindle", "not said"});
    return names;
}

std::optional<std::string> material_called(const Reading& reading, const std::string& name) {
    return name_of(find_material(reading.catalogue, name));
}
std::vector<std::string> materials_known(const Reading& reading) {
    return material_names(reading.catalogue);
}
std::optional<std::string> cutting_called(const Reading& reading, const std::string& name) {
    return name_of(find_cutting(reading.catalogue, name));
}
std::vector<std::string> cutting_known(const Reading& reading) {
    return cutting_names(reading.catalogue);
}

std::vector<std::string> tools_known(const Reading& reading) {
    std::vector<std::string> names;
    for (const ToolChain& tool : reading.job.tools) {
        names.push_back(tool.name);
    }
    return names;
}
std::vector<std::string> sides_known(const Reading&) { return {"tool", "stack"}; }

template <Known known>
std::optional<std::string> listed(const Reading& reading, const std::string& name) {
    const std::vector<std::string> names = known(reading);
    return std::ranges::find(names, name) == names.end() ? std::nullopt
                                                         : std::optional<std::string>(name);
}

struct SpreadKey {
    std::string_view key;
    SpreadFactors Uncertainty::*member;
    Naming called = nullptr;  ///< none: there is only one of it
    Known known = nullptr;
};

constexpr std::array kKeys{
    SpreadKey{"joint_stiffness", &Uncertainty::joint_stiffness, joint_called<JointUse::stack>,
              joints_known<JointUse::stack>},
    SpreadKey{"joint_loss", &Uncertainty::joint_loss, any_spring_called, springs_known},
    SpreadKey{"table_stiffness", &Uncertainty::table_stiffness},
    SpreadKey{"spindle_stiffness", &Uncertainty::spindle_stiffness},
    SpreadKey{"table_mass", &Uncertainty::table_mass},
    SpreadKey{"spindle_mass", &Uncertainty::spindle_mass},
    SpreadKey{"table_split", &Uncertainty::table_split},
    SpreadKey{"spindle_split", &Uncertainty::spindle_split},
    SpreadKey{"taper_stiffness", &Uncertainty::taper_stiffness, joint_called<JointUse::taper>,
              joints_known<JointUse::taper>},
    SpreadKey{"grip_stiffness", &Uncertainty::grip_stiffness, joint_called<JointUse::grip>,
              joints_known<JointUse::grip>},
    SpreadKey{"modulus", &Uncertainty::modulus, material_called, materials_known},
    SpreadKey{"loss", &Uncertainty::loss, material_called, materials_known},
    SpreadKey{"cutting_force", &Uncertainty::cutting_force, cutting_called, cutting_known},
    SpreadKey{"measured_stiffness", &Uncertainty::measured_stiffness, listed<sides_known>,
              sides_known},
    SpreadKey{"measured_damping", &Uncertainty::measured_damping, listed<sides_known>, sides_known},
    SpreadKey{"runout", &Uncertainty::runout, listed<tools_known>, tools_known},
};

void read_named_factor(TableReader& table, const SpreadKey& row, const Entry& entry,
                       SpreadFactors& factors) {
    const std::string call = fmt::format("{}.{}", row.key, entry.key.substr(0, 60));
    const auto factor = number_of(table, call, entry.value, kSpread);
    const std::optional<std::string> name = row.called(table.reading(), entry.key);
    if (!name) {
        const auto near = nearest_name(entry.key, row.known(table.reading()));
        table.fail(
            entry.where, fmt::format("{}: there is nothing of that name", table.call(call)),
            fmt::format(R"(a factor for all, as in {} = 1.5, or {{ "NAME" = 1.5 }})", row.key),
            near ? fmt::format(R"(did you mean "{}"?)", *near) : std::string());
    } else if (factor) {
        factors.by_name[*name] = *factor;
    }
}

/// A 10-90 % factor, or a table of them by name.
void read_factors(TableReader& table, const SpreadKey& row) {
    const Value* const value = table.find(row.key);
    if (value == nullptr) {
        return;
    }
    SpreadFactors& factors = table.reading().job.uncertainty.*row.member;
    if (value->kind != ValueKind::table || row.called == nullptr) {
        factors.all = number_of(table, row.key, *value, kSpread);
        return;
    }
    for (const Entry& entry : value->entries) {
        read_named_factor(table, row, entry, factors);
    }
}

bool has_a_stickout(const Job& job) {
    return std::ranges::any_of(job.tools, [](const ToolChain& tool) {
        return !tool.rigid && tool.modes.empty() && stickout_of(tool.cutter) > 0;
    });
}

void assume_stickout(Reading& reading) {
    constexpr double kSetWithin = 2e-3;
    Uncertainty& uncertainty = reading.job.uncertainty;
    if (uncertainty.stickout || !has_a_stickout(reading.job)) {
        return;
    }
    uncertainty.stickout = kSetWithin;
    assume(reading, "uncertainty.stickout", kSetWithin, Quantity::length,
           "in all, that a tool's stickout is set within; common practice, no source", "");
}

void read_table(TableReader& root) {
    auto table = root.table("uncertainty", "[uncertainty], with single brackets");
    if (!table) {
        return;
    }
    Uncertainty& uncertainty = root.reading().job.uncertainty;
    TableReader reader(
        root.reading(), table->value(),
        {.subject = "uncertainty", .path = "uncertainty", .header = "[uncertainty]"});
    for (const SpreadKey& row : kKeys) {
        read_factors(reader, row);
    }
    uncertainty.stickout = quantity(reader, "stickout", Quantity::length, kSetting);
    uncertainty.draws = whole_number(reader, "draws", 0, 100000);
    if (const auto seed = whole_number(reader, "seed", 0, 2147483647)) {
        uncertainty.seed = static_cast<std::uint64_t>(*seed);
    }
    reader.finish();
}

}  // namespace

void read_uncertainty(TableReader& root) {
    read_table(root);
    assume_stickout(root.reading());
}

}  // namespace standfast
