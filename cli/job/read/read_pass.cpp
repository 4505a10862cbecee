#include "cli/job/read/read_pass.hpp"

#include <fmt/format.h>

#include "cli/job/read/read_quantity.hpp"
#include "cli/job/read/read_shape.hpp"
#include "cli/job/read/read_tier.hpp"
#include "materials/nearest_name.hpp"

namespace standfast {
namespace {

bool needs_no_tier(const Stack& stack) { return stack.rigid || !stack.modes.empty(); }

std::vector<std::string> tool_names(const Job& job) {
    std::vector<std::string> names;
    for (const ToolChain& tool : job.tools) {
        names.push_back(tool.name);
    }
    return names;
}

std::vector<std::string> tier_names(const Job& job) {
    std::vector<std::string> names;
    for (const Tier& tier : job.stack.tiers) {
        names.push_back(tier.name);
    }
    return names;
}

void choose_tool(TableReader& table, Pass& pass) {
    const Job& job = table.reading().job;
    pass.tool = index_of(table, "tool", tool_names(job), "tool").value_or(0);
    if (find_entry(table.value(), "tool") == nullptr && job.tools.size() > 1) {
        table.fail(
            table.value().where, fmt::format("{} is missing", table.call("tool")),
            fmt::format(R"(the name of a tool: "{}")", fmt::join(tool_names(job), R"(", ")")));
    }
}

void choose_tier(TableReader& table, Pass& pass) {
    const Job& job = table.reading().job;
    const std::size_t count = job.stack.tiers.size();
    pass.tier =
        index_of(table, "tier", tier_names(job), "tier").value_or(count > 0 ? count - 1 : 0);
    if (count == 0 && !needs_no_tier(job.stack) && find_entry(table.value(), "tier") == nullptr &&
        !is_given(table.reading(), "tier")) {
        table.fail(table.value().where,
                   fmt::format("{}: there is no [[tier]] to cut", table.name().subject),
                   "[[tier]] from the table up, or [stack] with modes or rigid = true");
    }
}

void choose_cutting(TableReader& table, Pass& pass, const std::string& named) {
    Reading& reading = table.reading();
    const Catalogue& catalogue = reading.catalogue;
    const std::string accepted =
        R"(the name of cutting data; "standfast materials" lists them, [cutting."name"] adds one)";
    if (const auto name = table.text("cutting", accepted)) {
        const CuttingData* row = find_cutting(catalogue, *name);
        if (row == nullptr) {
            const Material* const material = find_material(catalogue, *name);
            row = material == nullptr ? nullptr : find_cutting(catalogue, material->cutting);
        }
        if (row != nullptr) {
            pass.cutting = *row;
            return;
        }
        const auto near = nearest_name(*name, cutting_names(catalogue));
        table.reject("cutting", *table.find("cutting"), accepted,
                     near ? fmt::format(R"(did you mean "{}"?)", *near) : std::string());
        return;
    }
    if (find_entry(table.value(), "cutting") != nullptr) {
        return;
    }
    const std::vector<Tier>& tiers = reading.job.stack.tiers;
    const Material material = pass.tier < tiers.size() ? tiers[pass.tier].material : Material{};
    const CuttingData* const row =
        material.cutting.empty() ? nullptr : find_cutting(catalogue, material.cutting);
    if (row == nullptr) {
        // A tier whose own material is at fault is reported there.
        if (!material.name.empty() || tiers.empty()) {
            table.fail(table.value().where, fmt::format("{} is missing", table.call("cutting")),
                       accepted);
        }
        return;
    }
    pass.cutting = *row;
    assume_text(reading, named + ".cutting", fmt::format("{}, from the tier's material", row->name),
                row->source.text);
}

/// Edge forces that stand in for those that a set lacks.
void list_edges(Reading& reading, const CuttingData& data, const std::string& named) {
    if (data.mechanistic && data.mechanistic->edge_from_neighbours) {
        assume(reading, named + ".cutting.edge", data.mechanistic->radial_edge,
               Quantity::force_per_length,
               fmt::format("radial edge force; \"{}\" has none of its own, so the median of its "
                           "neighbours, 8 in 10 within a factor of 1.8",
                           data.name),
               data.source.text);
    }
}

/// Rubbing of the flank where the data have that of the material's group.
void list_rubbing(Reading& reading, const CuttingData& data, const std::string& named) {
    if (data.process_damping_of_group && data.process_damping.value_or(0) > 0) {
        assume(reading, named + ".cutting.process_damping", *data.process_damping,
               Quantity::force_per_length,
               "rubbing of the flank, of the material's group; 8 in 10 within a factor of 3 above "
               "and 10 below, a fresh edge at the lower end; fades between waves of 0.5 and 1 mm",
               "fitted for aluminium, from memory for other groups; see the head of cutting.toml");
    }
}

void read_state(TableReader& table, Pass& pass) {
    auto state = table.table("state", "[pass.state] with a section, height or both");
    if (!state) {
        return;
    }
    const auto shape = read_shape(*state, false);
    const auto height = quantity(*state, "height", Quantity::length, kSize);
    state->finish();
    pass.state = PassState{.shape = shape, .height = height};
}

Pass read_pass(TableReader& table, const std::string& name) {
    Pass pass;
    pass.name = name;
    const std::string named = named_path("pass", name);
    table.text("name", "a name");
    choose_tool(table, pass);
    choose_tier(table, pass);
    choose_cutting(table, pass, named);
    list_edges(table.reading(), pass.cutting, named);
    list_rubbing(table.reading(), pass.cutting, named);
    read_state(table, pass);
    read_place(table, pass);
    read_cut(table, pass, named);
    settle_place(table, pass, named);
    settle_heading(table, pass, named);
    if (!is_given(table.reading(), table.path("tilt")) &&
        !needs_no_tier(table.reading().job.stack)) {
        assume_text(table.reading(), named + ".tilt", "0 deg: the tool stands upright");
    }
    table.finish();
    return pass;
}

}  // namespace

void read_passes(TableReader& root) {
    Reading& reading = root.reading();
    const std::vector<const Value*> tables = list_of_tables(root, "pass");
    const std::vector<std::string> names = names_of(root, "pass", tables);
    if (tables.empty() && find_entry(root.value(), "pass") == nullptr) {
        root.fail(root.value().where, "[[pass]] is missing: there is nothing to check",
                  "[[pass]] with radial, axial, feed and speed");
    }
    for (std::size_t i = 0; i < tables.size(); ++i) {
        TableReader table(reading, *tables[i],
                          {.subject = numbered("pass", i, names[i]),
                           .path = fmt::format("pass[{}]", i),
                           .header = "[[pass]]"});
        reading.job.passes.push_back(read_pass(table, names[i]));
    }
}

}  // namespace standfast
