// What `fit` found out about joints, laid over a job.
#include <fmt/format.h>

#include <algorithm>

#include "cli/job/read_data.hpp"
#include "cli/job/read_quantity.hpp"
#include "materials/nearest_name.hpp"

namespace standfast {
namespace {

constexpr Range kFactor{.low = 1e-4, .high = 1e4};
constexpr Range kSpread{.low = 1, .high = 100};

void adjust(TableReader& table, Joint& joint) {
    joint.stiffness_adjust = number(table, "stiffness", kFactor).value_or(joint.stiffness_adjust);
    joint.loss_adjust = number(table, "loss", kFactor).value_or(joint.loss_adjust);
    if (const auto spread = number(table, "stiffness_spread", kSpread)) {
        joint.stiffness_spread = spread;
    }
    if (const auto spread = number(table, "loss_spread", kSpread)) {
        joint.loss_spread = spread;
    }
    table.finish();
}

/// The joints of one tier or tool that an overlay names.
void adjust_member(TableReader& member, Tier* tier, ToolChain* tool) {
    const auto one = [&](std::string_view key, Joint* joint) {
        Joint unused;
        if (auto table = member.table(key,
                                      "a table: { stiffness, loss, stiffness_spread, "
                                      "loss_spread }")) {
            adjust(*table, joint == nullptr ? unused : *joint);
        }
    };
    if (tier != nullptr) {
        one("joint", &tier->joint);
    }
    if (tool != nullptr) {
        one("taper", &tool->taper);
        one("grip", &tool->grip);
    }
    member.finish();
}

void read_adjust(TableReader& root) {
    Job& job = root.reading().job;
    const auto tables = root.table("adjust", R"([adjust."name".joint], with single brackets)");
    if (!tables) {
        return;
    }
    std::vector<std::string> names;
    for (const Tier& tier : job.stack.tiers) {
        names.push_back(tier.name);
    }
    for (const ToolChain& tool : job.tools) {
        names.push_back(tool.name);
    }
    for (const Entry& entry : tables->value().entries) {
        const std::string shown = entry.key.substr(0, 60);
        const auto tier = std::ranges::find(job.stack.tiers, entry.key, &Tier::name);
        const auto tool = std::ranges::find(job.tools, entry.key, &ToolChain::name);
        const bool is_tier = tier != job.stack.tiers.end();
        const bool is_tool = tool != job.tools.end();
        if (!is_tier && !is_tool) {
            const auto near = nearest_name(entry.key, names);
            root.fail(entry.where, fmt::format(R"(adjust: no tier or tool is called "{}")", shown),
                      fmt::format(R"("{}")", fmt::join(names, R"(", ")")),
                      near ? fmt::format(R"(did you mean "{}"?)", *near) : std::string());
            continue;
        }
        if (entry.value.kind != ValueKind::table) {
            root.fail(entry.value.where,
                      fmt::format(R"(adjust "{}" is {})", shown, in_words(entry.value)),
                      R"([adjust."name".joint] with stiffness and loss, bare factors)");
            continue;
        }
        TableReader member(root.reading(), entry.value,
                           {.subject = fmt::format(R"(adjust "{}")", shown),
                            .path = fmt::format(R"(adjust."{}")", entry.key),
                            .header = ""});
        adjust_member(member, is_tier ? &*tier : nullptr, is_tool ? &*tool : nullptr);
    }
}

/// Warns where the overlay was measured on something else than this job describes.
void compare_origin(TableReader& root) {
    auto table = root.table("measured_on", "[measured_on] with machine, base and riser");
    if (!table) {
        return;
    }
    Reading& reading = root.reading();
    const Job& job = reading.job;
    const auto machine = table->text("machine", "the machine's kind");
    if (machine && *machine != job.machine.kind.name) {
        reading.warnings.push_back(
            fmt::format(R"(the adjustments were measured on machine "{}", this job is for "{}")",
                        *machine, job.machine.kind.name));
    }
    for (const std::string_view key : {"base", "riser"}) {
        const auto name = table->text(key, "a tier's name");
        if (name &&
            std::ranges::find(job.stack.tiers, *name, &Tier::name) == job.stack.tiers.end()) {
            reading.warnings.push_back(
                fmt::format(R"(the adjustments were measured on {} "{}", which this job does not )"
                            "have",
                            key, *name));
        }
    }
    table->finish();
}

}  // namespace

void apply_overlay(Reading& reading, const Value& overlay) {
    TableReader root(reading, overlay, {});
    read_adjust(root);
    compare_origin(root);
    root.finish();
}

}  // namespace standfast
