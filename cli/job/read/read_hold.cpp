// What holds a tier down: screws, a dovetail, jaws, a preload.
#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "cli/job/read/read_joint.hpp"
#include "cli/job/read/read_quantity.hpp"
#include "cli/job/read/screw_size.hpp"

namespace standfast {
namespace {

constexpr Range kFlank{.low = 0.35, .high = 1.48};  // 20 to 85 deg
constexpr Range kTorque{.low = 0, .above_low = true, .high = 1e5};
constexpr Range kFriction{.low = 0, .above_low = true, .high = 2};

bool is_jaws(const JointKind& kind) {
    constexpr std::array names{"vice", "soft jaws", "toe clamps"};
    return std::ranges::find(names, kind.name) != names.end();
}

/// The keys of every hold, read before it is known which of them fit.
struct HoldKeys {
    std::optional<double> length, width, flank, depth, grip, clamp, preload;
    std::optional<bool> seat;
};

HoldKeys read_hold_keys(TableReader& table) {
    return {.length = quantity(table, "length", Quantity::length, kSize),
            .width = quantity(table, "width", Quantity::length, kSize),
            .flank = quantity(table, "flank", Quantity::angle, kFlank),
            .depth = quantity(table, "depth", Quantity::length, kSize),
            .grip = quantity(table, "grip", Quantity::length, kSize),
            .clamp = quantity(table, "clamp", Quantity::force, kForce),
            .preload = quantity(table, "preload", Quantity::force, kForce),
            .seat = table.truth("seat")};
}

void refuse_keys(TableReader& table, std::initializer_list<std::string_view> keys,
                 std::string_view owner) {
    for (const std::string_view key : keys) {
        if (find_entry(table.value(), key) != nullptr) {
            table.fail(table.place(key),
                       fmt::format("{} does not belong to this kind of joint", table.call(key)),
                       fmt::format("{} with {}", key, owner));
        }
    }
}

std::optional<Screws> read_screws(TableReader& table) {
    const auto count = whole_number(table, "screws", 1, 200);
    const auto size = table.text("size", R"(a screw size, as in "M12" or "1/2-13")");
    const auto torque = quantity(table, "torque", Quantity::torque, kTorque);
    const auto circle = quantity(table, "screw_circle", Quantity::length, kSize);
    std::optional<double> diameter;
    if (size && !(diameter = screw_diameter(*size))) {
        table.fail(table.place("size"), fmt::format(R"({} is "{}")", table.call("size"), *size),
                   R"(a screw size, as in "M12" or "1/2-13")");
    }
    constexpr std::array keys{"screws", "size", "torque", "screw_circle"};
    const bool any = std::ranges::any_of(
        keys, [&](const char* key) { return find_entry(table.value(), key) != nullptr; });
    if (!any) {
        return std::nullopt;
    }
    table.require("screws", "the number of screws, as in 4");
    table.require("size", R"(a screw size, as in "M12" or "1/2-13")");
    if (!count || !diameter) {
        return std::nullopt;
    }
    return Screws{.count = *count, .diameter = *diameter, .torque = torque, .circle = circle};
}

Dovetail make_dovetail(TableReader& table, const HoldKeys& keys, const SectionShape& foot,
                       const std::string& named) {
    Reading& reading = table.reading();
    table.require("width", R"(the width of the neck, as in "32 mm" or "1.25 in")");
    Dovetail dovetail{.length = keys.length.value_or(width_x(foot)),
                      .width = keys.width.value_or(width_y(foot) / 2),
                      .flank = keys.flank.value_or(usual("60 deg", Quantity::angle)),
                      .depth = 0,
                      .clamp = keys.clamp ? keys.clamp : keys.preload,
                      .seat = keys.seat};
    // Common practice, no source: an eighth of the neck, within what dovetail cutters reach.
    dovetail.depth = keys.depth.value_or(std::clamp(dovetail.width / 8, 0.002, 0.006));
    if (!keys.length) {
        assume(reading, named + ".length", dovetail.length, Quantity::length,
               "as long as the part");
    }
    if (!keys.flank) {
        assume(reading, named + ".flank", dovetail.flank, Quantity::angle,
               "usual dovetail cutter; common practice, no source");
    }
    if (!keys.depth) {
        assume(reading, named + ".depth", dovetail.depth, Quantity::length,
               "an eighth of the neck; common practice, no source");
    }
    return dovetail;
}

Jaws make_jaws(TableReader& table, const HoldKeys& keys, const SectionShape& foot,
               const std::string& named) {
    Reading& reading = table.reading();
    const Jaws jaws{.length = keys.length.value_or(width_x(foot)),
                    .width = keys.width.value_or(width_y(foot)),
                    .grip = keys.grip.value_or(0.006),
                    .clamp = keys.clamp ? keys.clamp : keys.preload,
                    .seat = keys.seat};
    if (!keys.seat) {
        assume_text(reading, named + ".seat",
                    "not counted: seat = true where the part bears on it");
    }
    if (!keys.length) {
        assume(reading, named + ".length", jaws.length, Quantity::length, "as long as the tier");
    }
    if (!keys.width) {
        assume(reading, named + ".width", jaws.width, Quantity::length, "as wide as the tier");
    }
    if (!keys.grip) {
        assume(reading, named + ".grip", jaws.grip, Quantity::length,
               "gripped height; common practice, no source");
    }
    return jaws;
}

/// Where the screws stand matters as much as how hard they pull.
void note_screw_circle(const Joint& joint, Reading& reading, const std::string& named) {
    if (joint.screws && joint.screws->count > 1 && !joint.screws->circle &&
        (joint.preload || joint.screws->torque)) {
        assume_text(reading, named + ".screw_circle",
                    "screws near the edge of the smaller face, or in the middle of its wall; "
                    "common practice, no source");
    }
}

void note_assumed_clamp(const Joint& joint, Reading& reading, const std::string& named) {
    const bool clamped = joint.preload || (joint.screws && joint.screws->torque) ||
                         (joint.dovetail && joint.dovetail->clamp) ||
                         (joint.jaws && joint.jaws->clamp);
    if (!joint.solid && !clamped && joint.kind.assumed_clamp > 0) {
        assume(reading, named + ".clamp", joint.kind.assumed_clamp, Quantity::force,
               "for stiffness only: holding is not judged", joint.kind.source.text);
    }
}

void read_hold(Joint& joint, TableReader& table, const SectionShape& foot,
               const std::string& named) {
    const HoldKeys keys = read_hold_keys(table);
    joint.screws = read_screws(table);
    joint.friction = number(table, "friction", kFriction);
    const bool dovetail = joint.kind.name == "dovetail";
    const bool jaws = is_jaws(joint.kind);
    if (dovetail) {
        joint.dovetail = make_dovetail(table, keys, foot, named);
        refuse_keys(table, {"grip"}, R"(kind = "vice")");
    } else if (jaws) {
        joint.jaws = make_jaws(table, keys, foot, named);
        refuse_keys(table, {"flank", "depth"}, R"(kind = "dovetail")");
    } else if (!joint.kind.name.empty()) {
        joint.preload = keys.preload ? keys.preload : keys.clamp;
        refuse_keys(table, {"flank", "depth"}, R"(kind = "dovetail")");
        refuse_keys(table, {"grip", "seat"}, R"(kind = "vice")");
    }
    if (keys.preload && keys.clamp) {
        fail(table.reading(),
             {.where = table.place("clamp"),
              .message = fmt::format("{} and preload are both given", table.call("clamp")),
              .accepted = "one of them",
              .notes = {{table.place("preload"), "the other one"}}});
    }
    if (joint.preload && joint.screws && joint.screws->torque) {
        assume_text(table.reading(), named + ".preload",
                    "taken as given; the torque of the screws is not used");
    }
}

}  // namespace

Joint read_stack_joint(TableReader& tier, const SectionShape& foot, const std::string& named) {
    SharedJoint shared = read_shared_joint(
        tier, "joint", {.use = JointUse::stack, .fallback = "bolted", .named = named});
    Joint& joint = shared.joint;
    if (shared.table) {
        read_hold(joint, *shared.table, foot, named);
        shared.table->finish();
    } else if (joint.kind.name == "dovetail") {
        tier.fail(tier.place("joint"), fmt::format("{} needs its width", tier.call("joint")),
                  R"(a table, as in { kind = "dovetail", width = "32 mm" })");
    } else if (is_jaws(joint.kind)) {
        const Value nothing = make_value(tier.place("joint"), ValueKind::table);
        TableReader empty(tier.reading(), nothing,
                          {.subject = tier.name().subject, .path = tier.path("joint")});
        joint.jaws = make_jaws(empty, {}, foot, named);
    }
    note_assumed_clamp(joint, tier.reading(), named);
    note_screw_circle(joint, tier.reading(), named);
    return joint;
}

}  // namespace standfast
