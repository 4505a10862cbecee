#include "cli/job/read/read_joint.hpp"

#include <fmt/format.h>

#include <utility>

#include "cli/job/read/read_quantity.hpp"
#include "materials/nearest_name.hpp"

namespace standfast {
namespace {

/// Takes the row that stands in where a job names no kind.
void fall_back(Joint& joint, Reading& reading, const JointPurpose& purpose, std::string_view why) {
    const JointKind* const row = find_joint(reading.catalogue, purpose.fallback, purpose.use);
    if (row == nullptr) {
        return;
    }
    joint.kind = *row;
    assume_text(reading, purpose.named + ".kind", fmt::format("{} ({})", row->name, why),
                row->source.text);
}

bool complete(const JointNumbers& numbers) {
    return numbers.lateral && numbers.vertical && numbers.tilting && numbers.twisting &&
           numbers.loss;
}

/// The kinds by their first names, without their many aliases.
std::string kinds_of(const Catalogue& catalogue, JointUse use) {
    std::string list;
    for (const JointKind& row : catalogue.joints) {
        if (row.use == use) {
            list += (list.empty() ? "" : ", ") + row.name;
        }
    }
    return list;
}

std::string_view accepted_joint(JointUse use) {
    return use == JointUse::stack
               ? R"("solid", a kind as in "bolted", or a table as in { kind = "dovetail", width = "32 mm" })"
               : R"("solid", a kind, or a table with kind or numbers)";
}

}  // namespace

JointNumbers read_joint_numbers(TableReader& table, bool tool_side) {
    JointNumbers numbers;
    const auto is_pair = [&](std::string_view key) {
        const Entry* const entry = find_entry(table.value(), key);
        return entry != nullptr && entry->value.kind == ValueKind::array;
    };
    numbers.told_apart = is_pair("lateral") || is_pair("tilting");
    numbers.lateral = one_or_two(table, "lateral", Quantity::stiffness, kStiffness);
    numbers.vertical = quantity(table, "vertical", Quantity::stiffness, kStiffness);
    if (tool_side) {
        const auto axial = quantity(table, "axial", Quantity::stiffness, kStiffness);
        if (axial && numbers.vertical) {
            fail(table.reading(),
                 {.where = table.place("axial"),
                  .message = fmt::format("{} and vertical are one and the same, and both are given",
                                         table.call("axial")),
                  .accepted = "one of them",
                  .notes = {{table.place("vertical"), "the other one"}}});
        }
        numbers.vertical = axial ? axial : numbers.vertical;
    }
    numbers.tilting = one_or_two(table, "tilting", Quantity::angular_stiffness, kStiffness);
    numbers.twisting = quantity(table, "twisting", Quantity::angular_stiffness, kStiffness);
    numbers.loss = fraction(table, "loss", kLoss);
    return numbers;
}

std::optional<JointKind> joint_kind(TableReader& table, std::string_view key, const Value& value,
                                    JointUse use) {
    const Catalogue& catalogue = table.reading().catalogue;
    const std::string accepted = kinds_of(catalogue, use);
    if (value.kind != ValueKind::text) {
        table.reject(key, value, accepted);
        return std::nullopt;
    }
    if (const JointKind* const row = find_joint(catalogue, value.text, use)) {
        return *row;
    }
    const std::optional<std::string> near = nearest_name(value.text, joint_names(catalogue, use));
    table.reject(key, value, accepted,
                 near ? fmt::format(R"(did you mean "{}"?)", *near) : std::string());
    return std::nullopt;
}

SharedJoint read_shared_joint(TableReader& parent, std::string_view key,
                              const JointPurpose& purpose) {
    SharedJoint shared;
    Reading& reading = parent.reading();
    const Value* const value = parent.find(key);
    if (value == nullptr) {
        fall_back(shared.joint, reading, purpose, "not given");
        return shared;
    }
    if (value->kind == ValueKind::text) {
        shared.joint.solid = value->text == "solid";
        if (!shared.joint.solid) {
            const auto row = joint_kind(parent, key, *value, purpose.use);
            shared.joint.kind = row ? *row : JointKind{};
        }
        return shared;
    }
    shared.table = parent.table(key, accepted_joint(purpose.use));
    if (!shared.table) {
        return shared;
    }
    shared.joint.given = read_joint_numbers(*shared.table, purpose.use != JointUse::stack);
    if (const Value* const kind = shared.table->find("kind")) {
        shared.joint.solid = kind->text == "solid";
        const auto row = shared.joint.solid ? std::nullopt
                                            : joint_kind(*shared.table, "kind", *kind, purpose.use);
        shared.joint.kind = row ? *row : JointKind{};
    } else if (!complete(shared.joint.given)) {
        fall_back(shared.joint, reading, purpose, "for what is not given as a number");
    }
    return shared;
}

}  // namespace standfast
