// The engagement of a pass: milling, depths, feed, speed, and what it is judged by.
#include <fmt/format.h>

#include <cmath>
#include <numbers>

#include "cli/job/read/read_pass.hpp"
#include "cli/job/read/read_quantity.hpp"

namespace standfast {
namespace {

constexpr Range kPathLength{.low = 0, .above_low = true, .high = 1e5};  // m

constexpr std::string_view kRadial =
    R"(a length, as in "0.3 mm", or a share of the cutter, as in "3 %")";
constexpr std::string_view kFeed =
    R"(a feed per tooth, as in "0.06 mm" or "0.0024 in", or a feed, as in "900 mm/min" or "35 ipm")";
constexpr std::string_view kSpeed =
    R"(a spindle speed, as in "9000 rpm", or a cutting speed, as in "120 m/min" or "400 sfm")";
constexpr double kFastest = 250000 * 2 * std::numbers::pi / 60;

Milling read_milling(TableReader& table) {
    const std::string accepted = R"("down" (climb), "up" (conventional) or "slot")";
    const auto milling = table.text("milling", accepted);
    if (!milling || *milling == "down" || *milling == "climb") {
        return Milling::down;
    }
    if (*milling == "up" || *milling == "conventional") {
        return Milling::up;
    }
    if (*milling != "slot") {
        table.reject("milling", *table.find("milling"), accepted);
    }
    return *milling == "slot" ? Milling::slot : Milling::down;
}

void read_radial(TableReader& table, Pass& pass, double diameter) {
    if (pass.milling == Milling::slot && find_entry(table.value(), "radial") == nullptr) {
        pass.radial = diameter;
        return;
    }
    const Value* const value = table.require("radial", kRadial);
    if (value == nullptr) {
        return;
    }
    const auto read = alternative_of(table, "radial", *value, {Quantity::length, Quantity::percent},
                                     std::string(kRadial));
    if (read) {
        pass.radial = read->quantity == Quantity::percent ? read->value * diameter : read->value;
        if (diameter > 0 && pass.radial < *kCutDepth.least) {
            table.fail(value->where,
                       fmt::format("{} is {}, which is less than a tenth of a micrometre",
                                   table.call("radial"), value->text),
                       std::string(kRadial));
        }
    }
}

std::optional<SpindleSpeed> speed_of(TableReader& table, std::string_view key, const Value& value,
                                     double diameter) {
    const auto read =
        alternative_of(table, key, value, {Quantity::rotational_speed, Quantity::surface_speed},
                       std::string(kSpeed));
    if (!read || (read->quantity == Quantity::surface_speed && diameter <= 0)) {
        return std::nullopt;
    }
    const double omega =
        read->quantity == Quantity::surface_speed ? 2 * read->value / diameter : read->value;
    if (omega > kFastest) {
        table.fail(value.where,
                   fmt::format("{} is {}, which is {:.0f} rpm", table.call(key), value.text,
                               SpindleSpeed{omega}.rpm()),
                   "at most 250000 rpm");
        return std::nullopt;
    }
    return SpindleSpeed{omega};
}

void read_speeds(TableReader& table, Pass& pass, double diameter) {
    const Value* const value = table.find("speeds");
    if (value == nullptr) {
        return;
    }
    const std::string accepted = R"(two speeds, as in ["6000 rpm", "10000 rpm"])";
    if (value->kind != ValueKind::array || value->items.size() != 2) {
        table.reject("speeds", *value, accepted);
        return;
    }
    const auto from = speed_of(table, "speeds", value->items[0], diameter);
    const auto to = speed_of(table, "speeds", value->items[1], diameter);
    if (from && to && from->radians_per_second >= to->radians_per_second) {
        table.fail(value->where, fmt::format("{} does not rise", table.call("speeds")), accepted);
    } else if (from && to) {
        pass.speeds = std::array{*from, *to};
    }
}

void read_feed(TableReader& table, Pass& pass, int teeth) {
    const Value* const value = table.require("feed", kFeed);
    if (value == nullptr) {
        return;
    }
    const auto read = alternative_of(table, "feed", *value,
                                     {Quantity::length, Quantity::feed_speed}, std::string(kFeed));
    if (!read) {
        return;
    }
    pass.feed_per_tooth = read->value;
    if (read->quantity == Quantity::feed_speed) {
        if (!pass.speed) {
            if (find_entry(table.value(), "speed") == nullptr) {
                table.fail(value->where,
                           fmt::format("{}: {} says nothing about the chip while the speed is open",
                                       table.call("feed"), value->text),
                           R"(a feed per tooth, as in "0.06 mm"; or give speed as well)");
            }
            pass.feed_per_tooth = 0;
            return;
        }
        pass.feed_per_tooth =
            teeth > 0 ? read->value / (teeth * pass.speed->revolutions_per_second()) : 0;
    }
    constexpr double kThinnest = 1e-7;
    constexpr double kThickest = 5e-3;
    if (teeth > 0 && (pass.feed_per_tooth < kThinnest || pass.feed_per_tooth > kThickest)) {
        table.fail(value->where,
                   fmt::format("{} is {}, which is {:.3g} mm a tooth", table.call("feed"),
                               value->text, pass.feed_per_tooth * 1e3),
                   "0.0001 mm to 5 mm a tooth");
    }
}

}  // namespace

void read_cut(TableReader& table, Pass& pass, const std::string& named) {
    Reading& reading = table.reading();
    const std::vector<ToolChain>& tools = reading.job.tools;
    const Cutter cutter = pass.tool < tools.size() ? tools[pass.tool].cutter : Cutter{};
    pass.milling = read_milling(table);
    read_radial(table, pass, cutter.diameter);
    pass.axial = quantity(table, "axial", Quantity::length, kCutDepth);
    if (const Value* const speed = table.find("speed")) {
        pass.speed = speed_of(table, "speed", *speed, cutter.diameter);
    }
    read_speeds(table, pass, cutter.diameter);
    read_feed(table, pass, cutter.teeth);
    pass.tolerance =
        quantity(table, "tolerance", Quantity::length, {.low = 0, .above_low = true, .high = 0.1});
    pass.leave = quantity(table, "leave", Quantity::length, {.low = 0, .high = 0.1});
    pass.corner_radius = quantity(table, "corner_radius", Quantity::length, kToolSize);
    pass.length = quantity(table, "length", Quantity::length, kPathLength);
    pass.share = fraction(table, "share", {.low = 0, .above_low = true, .high = 1});
    if (find_entry(table.value(), "milling") == nullptr) {
        assume_text(reading, named + ".milling", "down (climb)");
    }
}

}  // namespace standfast
