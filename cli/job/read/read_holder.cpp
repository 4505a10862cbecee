#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "cli/job/read/read_quantity.hpp"
#include "cli/job/read/read_tier.hpp"
#include "cli/job/read/read_tool.hpp"

namespace standfast {
namespace {

constexpr Range kInertia{.low = 0, .high = 10};

HolderStep read_step(TableReader& table) {
    HolderStep step;
    step.diameter = required_quantity(table, "round", Quantity::length, kToolPiece).value_or(0);
    step.diameter_to = quantity(table, "to", Quantity::length, kToolPiece).value_or(step.diameter);
    step.length = required_quantity(table, "length", Quantity::length, kToolPiece).value_or(0);
    step.material = read_material(table, "material", "steel");
    step.extra_mass = quantity(table, "mass", Quantity::mass, {.low = 0, .high = 100}).value_or(0);
    step.extra_inertia = quantity(table, "inertia", Quantity::inertia, kInertia).value_or(0);
    table.finish();
    return step;
}

/// Each step as a job would write it, so that the holder can be rebuilt and changed.
void list_steps(const ToolChain& tool, Reading& reading, const std::string& named) {
    const auto size = [](double metres) {
        return exact_text(std::round(metres * 1e7) / 1e7, Quantity::length, UnitSystem::metric);
    };
    for (std::size_t i = 0; i < tool.holder.size(); ++i) {
        const HolderStep& step = tool.holder[i];
        const std::string to = step.diameter_to == step.diameter
                                   ? ""
                                   : fmt::format(R"(to = "{}", )", size(step.diameter_to));
        assume_text(reading, fmt::format("{}.holder[{}]", named, i),
                    fmt::format(R"({{ round = "{}", {}length = "{}" }})", size(step.diameter), to,
                                size(step.length)));
    }
}

ShelfHolder read_shelf_holder(TableReader& table, const std::string& name) {
    ShelfHolder holder;
    holder.name = name;
    table.text("name", "a name");
    table.require("steps", R"(a list of steps: [ { round = "50 mm", length = "60 mm" }, ... ])");
    holder.steps = read_steps(table, "steps");
    if (const Value* const given = table.find("steps"); given != nullptr && holder.steps.empty()) {
        table.reject("steps", *given, R"(a list of one step or more)");
    }
    if (find_entry(table.value(), "grip") != nullptr) {
        ToolChain held;
        read_grip(table, held, named_path("holder", name) + ".grip");
        holder.grip = held.grip;
        if (held.grip_length > 0) {
            holder.grip_length = held.grip_length;
        }
        holder.grip_least = held.grip_least;
    }
    table.finish();
    return holder;
}

}  // namespace

std::vector<HolderStep> read_steps(TableReader& table, std::string_view key) {
    std::vector<HolderStep> steps;
    for (const Value* const value : list_of_tables(table, key)) {
        TableReader step(table.reading(), *value,
                         {.subject = table.name().subject,
                          .prefix = fmt::format("holder step {} ", steps.size() + 1),
                          .path = fmt::format("{}[{}]", table.path(key), steps.size()),
                          .header = key == "holder" ? "[[tool.holder]]" : "[[holder.steps]]"});
        steps.push_back(read_step(step));
    }
    return steps;
}

void read_shelf_holders(TableReader& root) {
    Reading& reading = root.reading();
    const std::vector<const Value*> tables = list_of_tables(root, "holder");
    const std::vector<std::string> names = names_of(root, "holder", tables);
    for (std::size_t i = 0; i < tables.size(); ++i) {
        TableReader table(reading, *tables[i],
                          {.subject = numbered("holder", i, names[i]),
                           .path = fmt::format("holder[{}]", i),
                           .header = "[[holder]]"});
        reading.job.holders.push_back(read_shelf_holder(table, names[i]));
    }
}

void assume_holder(ToolChain& tool, Reading& reading, const std::string& named) {
    const HolderKind* row = find_holder(reading.catalogue, tool.grip.kind.name);
    if (row == nullptr && !reading.catalogue.holders.empty()) {
        row = &reading.catalogue.holders.front();
    }
    if (row == nullptr) {
        return;
    }
    // The rows are for a 12 mm shank. Around a thicker one the nose keeps its wall; thinner ones
    // are mostly sold with the same nose.
    constexpr double kRowShank = 0.012;
    const double growth = std::max(0.0, tool.cutter.shank_diameter - kRowShank);
    const Material* const steel = find_material(reading.catalogue, "steel");
    double length = 0;
    for (std::size_t i = 0; i < row->steps.size(); ++i) {
        const HolderKind::Step& step = row->steps[i];
        const double thinnest = tool.cutter.shank_diameter + 0.006;
        const auto scaled = [&](double diameter) {
            return i == 0 ? tool.taper.kind.flange_diameter.value_or(diameter)
                          : std::max(diameter + growth, thinnest);
        };
        tool.holder.push_back(
            {.diameter = scaled(step.diameter),
             .diameter_to = scaled(step.diameter_to > 0 ? step.diameter_to : step.diameter),
             .length = step.length,
             .material = steel == nullptr ? Material{} : *steel});
        length += step.length;
    }
    tool.holder_assumed = true;
    list_steps(tool, reading, named);
    assume(reading, named + ".holder", length, Quantity::length,
           fmt::format("a typical {} holder of this length, gauge line to face; reach is not "
                       "judged",
                       row->grip),
           row->source.text);
}

}  // namespace standfast
