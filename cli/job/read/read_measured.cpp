// [[measured]]: pushes, taps, receptances and walls, for `fit`.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <exception>
#include <filesystem>

#include "cli/job/read/measured_place.hpp"
#include "cli/job/read/measured_receptance.hpp"
#include "cli/job/read/read_data.hpp"
#include "cli/job/read/read_quantity.hpp"
#include "cli/job/read/read_tier.hpp"
#include "cli/sound/read_recording.hpp"
#include "fea/studies/sound/ring_down.hpp"

namespace standfast {
namespace {

constexpr std::size_t kMostReadings = 100;
constexpr Range kReading{.low = -0.1, .high = 0.1};
constexpr Range kGoodTo{.low = 0.001, .high = 2};

std::vector<double> one_or_more(TableReader& table, std::string_view key, Quantity quantity,
                                const Range& range) {
    const Value* const value = table.find(key);
    if (value == nullptr) {
        return {};
    }
    if (value->kind == ValueKind::array) {
        return quantities_of(table, key, *value, quantity, range, 1, kMostReadings)
            .value_or(std::vector<double>{});
    }
    const auto one = quantity_of(table, key, *value, quantity, range);
    return one ? std::vector<double>{*one} : std::vector<double>{};
}

/// One or more fractions, each bare or in percent.
std::vector<double> fractions(TableReader& table, std::string_view key, const Range& range) {
    const Value* const value = table.find(key);
    std::vector<double> found;
    if (value == nullptr) {
        return found;
    }
    if (value->kind != ValueKind::array) {
        const auto one = fraction(table, key, range);
        return one ? std::vector<double>{*one} : found;
    }
    for (const Value& item : value->items) {
        const auto one = item.kind == ValueKind::text
                             ? quantity_of(table, key, item, Quantity::percent, range)
                             : number_of(table, key, item, range);
        if (one) {
            found.push_back(*one);
        }
    }
    return found;
}

PushTest read_push(TableReader& table) {
    PushTest push;
    push.scale = table.text("scale", "a name, where more than one scale was used").value_or("");
    const auto tool = read_where(table);
    push.pushed = read_place(table, tool, {});
    push.direction = required_direction(table);
    push.force = required_quantity(table, "force", Quantity::force, kForce).value_or(1);
    table.require("moved", R"(an indicator's reading, as in "0.021 mm", or a list of repeats)");
    push.moved = one_or_more(table, "moved", Quantity::length, kReading);
    push.returned = one_or_more(table, "returned", Quantity::length, kReading);
    push.division =
        quantity(table, "division", Quantity::length, kToolSize).value_or(push.division);
    const bool elsewhere = find_entry(table.value(), "read_at") != nullptr ||
                           find_entry(table.value(), "read_tier") != nullptr;
    push.read =
        elsewhere ? read_place(table, tool, {.at = "read_at", .tier = "read_tier"}) : push.pushed;
    push.read_direction = direction(table, "read_direction").value_or(push.direction).normalized();
    const std::string accepted =
        R"("table", "spindle" or "floor": where the indicator's base stands)";
    const Value* const against = table.require("against", accepted);
    constexpr std::array<std::string_view, 3> kBases{"table", "spindle", "floor"};
    if (against != nullptr) {
        const auto base = std::ranges::find(kBases, against->text);
        if (against->kind != ValueKind::text || base == kBases.end()) {
            table.reject("against", *against, accepted);
        } else {
            push.against = static_cast<IndicatorBase>(base - kBases.begin());
        }
    }
    return push;
}

/// Frequencies and damping from a recording of several knocks, and how well they are known.
void read_knocks(TableReader& table, TapTest& tap) {
    for (const std::string_view key : {"frequencies", "damping"}) {
        if (const Value* const typed = table.find(key)) {
            table.fail(typed->where, fmt::format("{} is given beside a recording", table.call(key)),
                       "sound, or frequencies with damping: a recording tells both");
        }
    }
    const auto name = table.text("sound", R"(a recording of several knocks, as in "tap.wav")");
    if (!name) {
        return;
    }
    const Position where = table.place("sound");
    const std::filesystem::path folder =
        where.file ? std::filesystem::path(where.file->name).parent_path() : "";
    const std::string path = (folder / *name).string();
    table.reading().measurements.push_back(path);
    try {
        const RingDown found = ring_down(read_recording(path).recording);
        if (found.modes.empty()) {
            table.fail(where, fmt::format("{}: nothing rings in it", table.call("sound")),
                       "several knocks with a soft hammer, each left to ring, half a second apart "
                       "or more");
        }
        for (const RingingMode& mode : found.modes) {
            tap.frequencies.push_back(AngularFrequency::from_hertz(mode.frequency));
            tap.damping.push_back(mode.damping);
            tap.frequency_deviation.push_back(mode.frequency_deviation);
            tap.damping_deviation.push_back(mode.damping_deviation);
        }
        tap.remarks = ring_down_remarks(found);
    } catch (const std::exception& error) {
        table.fail(where, fmt::format("{}: {}", table.call("sound"), error.what()),
                   "a recording: WAV, FLAC, AIFF or Ogg");
    }
}

TapTest read_tap(TableReader& table) {
    TapTest tap;
    const Range frequency{.low = 0, .above_low = true, .high = 1e6};
    const Range ratio{.low = 0, .above_low = true, .high = 0.99};
    tap.place = read_place(table, read_where(table), {});
    if (const auto along = direction(table, "direction")) {
        tap.direction = along->normalized();
    }
    if (table.find("sound") != nullptr) {
        read_knocks(table, tap);
        return tap;
    }
    table.require("frequencies",
                  R"(a list, as in ["355 Hz", "905 Hz"]; or sound = "tap.wav", a recording of it)");
    for (const double value :
         quantities(table, "frequencies", Quantity::frequency, frequency, 1, kMostReadings)
             .value_or(std::vector<double>{})) {
        tap.frequencies.push_back(AngularFrequency::from_hertz(value));
    }
    tap.damping = fractions(table, "damping", ratio);
    if (!tap.damping.empty() && tap.damping.size() != tap.frequencies.size()) {
        table.fail(table.place("damping"),
                   fmt::format("{} has {} values for {} frequencies", table.call("damping"),
                               tap.damping.size(), tap.frequencies.size()),
                   "a damping ratio for each frequency, in the same order");
    }
    return tap;
}

void read_wall(TableReader& table, Measured& measured) {
    table.require("pass", "the name of a pass");
    std::vector<std::string> names;
    for (const Pass& pass : table.reading().job.passes) {
        names.push_back(pass.name);
    }
    const auto pass = index_of(table, "pass", names, "pass");
    const auto top = required_quantity(table, "top", Quantity::length, kReading);
    const auto foot = required_quantity(table, "foot", Quantity::length, kReading);
    measured.wall = {.pass = pass.value_or(0), .top = top.value_or(0), .foot = foot.value_or(0)};
}

/// Whether the kind is one that is known.
bool read_one(TableReader& table, std::size_t number, Measured& measured,
              std::vector<Replacement>& replacements) {
    const std::string accepted = R"("push", "tap", "receptance" or "wall")";
    table.require("kind", accepted);
    const std::string kind = table.text("kind", accepted).value_or("");
    measured.name = fmt::format("{} {}", kind, number);
    measured.name = table.text("name", "a name").value_or(measured.name);
    measured.good_to = fraction(table, "good_to", kGoodTo);
    if (kind == "push") {
        measured.push = read_push(table);
    } else if (kind == "tap") {
        measured.tap = read_tap(table);
    } else if (kind == "receptance") {
        measured.receptance = read_receptance_test(table);
        if (auto replacement = read_replacement(table, *measured.receptance)) {
            replacements.push_back(std::move(*replacement));
            measured.receptance.reset();
        }
    } else if (kind == "wall") {
        read_wall(table, measured);
    } else {
        if (!kind.empty()) {
            table.reject("kind", *table.find("kind"), accepted);
        }
        return false;
    }
    return true;
}

}  // namespace

void read_measured(TableReader& root) {
    std::size_t index = 0;
    std::vector<Replacement> replacements;
    for (const Value* const value : list_of_tables(root, "measured")) {
        TableReader table(root.reading(), *value,
                          {.subject = fmt::format("measured {}", index + 1),
                           .path = fmt::format("measured[{}]", index),
                           .header = "[[measured]]"});
        ++index;
        Measured measured;
        // With the kind unknown, so are the keys that go with it.
        if (read_one(table, index, measured, replacements)) {
            table.finish();
        }
        const bool any = measured.push || measured.tap || measured.receptance || measured.wall;
        if (any) {
            root.reading().job.measured.push_back(std::move(measured));
        }
    }
    if (root.reading().errors.empty()) {
        replace_tools(root.reading(), replacements);
    }
}

}  // namespace standfast
