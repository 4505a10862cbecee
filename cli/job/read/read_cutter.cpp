#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "cli/job/read/read_quantity.hpp"
#include "cli/job/read/read_tier.hpp"
#include "cli/job/read/read_tool.hpp"

namespace standfast {
namespace {

constexpr double kDegree = std::numbers::pi / 180;
constexpr Range kHelix{.low = 0, .high = 75 * kDegree};
constexpr Range kPitch{.low = 0, .above_low = true, .high = 2 * std::numbers::pi};
constexpr Range kRunout{.low = 0, .high = 0.005};

void read_pitch(TableReader& table, Cutter& cutter) {
    const auto pitch = quantities(table, "pitch", Quantity::angle, kPitch, 1, 100);
    if (!pitch) {
        return;
    }
    const Position where = table.place("pitch");
    if (cutter.teeth > 0 && static_cast<int>(pitch->size()) != cutter.teeth) {
        fail(table.reading(),
             {.where = where,
              .message = fmt::format("{} lists {} angles for {} teeth", table.call("pitch"),
                                     pitch->size(), cutter.teeth),
              .accepted = "one angle for each tooth, to the next one",
              .notes = {{table.place("teeth"), "the number of teeth"}}});
        return;
    }
    double sum = 0;
    for (const double angle : *pitch) {
        sum += angle;
    }
    if (std::abs(sum - 2 * std::numbers::pi) > 0.1 * kDegree) {
        table.fail(where, fmt::format("{} sums to {:.4g} deg", table.call("pitch"), sum / kDegree),
                   "angles that sum to 360 deg");
        return;
    }
    cutter.pitch = *pitch;
}

void read_neck(TableReader& table, Cutter& cutter) {
    if (const auto neck = quantities(table, "neck", Quantity::length, kToolPiece, 2, 2)) {
        cutter.neck_diameter = (*neck)[0];
        cutter.neck_length = (*neck)[1];
    }
}

void read_segments(TableReader& table, Cutter& cutter) {
    for (const Value* const value : list_of_tables(table, "segments")) {
        const std::size_t index = cutter.segments.size();
        TableReader reader(table.reading(), *value,
                           {.subject = table.name().subject,
                            .prefix = fmt::format("cutter segment {} ", index + 1),
                            .path = fmt::format("{}[{}]", table.path("segments"), index),
                            .header = ""});
        CutterSegment segment;
        segment.diameter =
            required_quantity(reader, "round", Quantity::length, kToolPiece).value_or(0);
        segment.length =
            required_quantity(reader, "length", Quantity::length, kToolPiece).value_or(0);
        segment.material = read_material(reader, "material", "cemented carbide");
        reader.finish();
        cutter.segments.push_back(std::move(segment));
    }
}

/// Segments from holder face to tip make up the stickout; a longer one lengthens the uppermost.
void settle_segments(TableReader& table, Cutter& cutter, bool stickout_given) {
    double sum = 0;
    for (const CutterSegment& segment : cutter.segments) {
        sum += segment.length;
    }
    if (!stickout_given) {
        cutter.stickout = sum;
        return;
    }
    const double longer = cutter.stickout - sum;
    if (cutter.segments.front().length + longer <= 0) {
        fail(table.reading(),
             {.where = table.place("stickout"),
              .message = fmt::format("{} is shorter than the segments below the uppermost",
                                     table.call("stickout")),
              .accepted = "the sum of the segments, or more",
              .notes = {{table.place("segments"), "the segments"}}});
        return;
    }
    cutter.segments.front().length += longer;
}

bool read_hand(TableReader& table) {
    const auto hand = table.text("hand", R"("right" or "left")");
    if (hand && *hand != "right" && *hand != "left") {
        table.reject("hand", *table.find("hand"), R"("right" or "left")");
    }
    return hand != "left";
}

/// What follows from the diameter where the job does not say it.
void assume_details(TableReader& table, Cutter& cutter, const std::string& named) {
    Reading& reading = table.reading();
    const auto unless = [&](std::string_view key, double& value, double stand_in, Quantity quantity,
                            const char* why) {
        if (find_entry(table.value(), key) == nullptr) {
            value = stand_in;
            assume(reading, fmt::format("{}.{}", named, key), stand_in, quantity, why);
        }
    };
    unless("helix", cutter.helix, usual("30 deg", Quantity::angle), Quantity::angle,
           "common practice, no source");
    unless("corner", cutter.corner_radius, 0, Quantity::length, "square corner");
    const double within = cutter.stickout > 0 ? cutter.stickout : 2 * cutter.diameter;
    unless("flute", cutter.flute_length, std::min(2 * cutter.diameter, within), Quantity::length,
           "twice the diameter; common practice, no source");
    const bool spelled_out = !cutter.segments.empty();
    unless("shank", cutter.shank_diameter,
           spelled_out ? cutter.segments.front().diameter : std::min(cutter.diameter, 0.032),
           Quantity::length,
           spelled_out
               ? "as thick as the uppermost segment"
               : "as thick as the cutter, 32 mm at most: a thicker one is stiffer, so say it");
    unless("runout", cutter.runout, 0, Quantity::length, "none");
    if (find_entry(table.value(), "material") == nullptr && cutter.segments.empty()) {
        assume_text(reading, named + ".material", cutter.material.name,
                    cutter.material.source.text);
    }
}

void read_sizes(TableReader& table, Cutter& cutter) {
    const auto length = [&](std::string_view key, const Range& range) {
        return quantity(table, key, Quantity::length, range).value_or(0);
    };
    cutter.helix = quantity(table, "helix", Quantity::angle, kHelix).value_or(0);
    cutter.corner_radius = length("corner", {.low = 0, .high = 1});
    cutter.flute_length = length("flute", kToolPiece);
    cutter.shank_diameter = length("shank", kToolPiece);
    cutter.overall = quantity(table, "overall", Quantity::length, kToolPiece);
    cutter.runout = length("runout", kRunout);
    cutter.flute_factor =
        number(table, "flute_factor", {.low = 0.3, .high = 1}).value_or(cutter.flute_factor);
    cutter.material = read_material(table, "material", "cemented carbide");
    cutter.right_hand = read_hand(table);
    read_neck(table, cutter);
    read_pitch(table, cutter);
    read_segments(table, cutter);
}

void read_stickout(TableReader& table, ReadCutter& read, bool measured) {
    const auto stickout = quantity(table, "stickout", Quantity::length, kToolPiece);
    read.gauge_length =
        quantity(table, "gauge_length", Quantity::length, {.low = 0, .above_low = true, .high = 3});
    read.cutter.stickout = stickout.value_or(0);
    const bool says_stickout = find_entry(table.value(), "stickout") != nullptr;
    const bool says_gauge = find_entry(table.value(), "gauge_length") != nullptr;
    if (says_stickout && says_gauge) {
        fail(table.reading(),
             {.where = table.place("gauge_length"),
              .message = fmt::format("{} and stickout are both given", table.call("gauge_length")),
              .accepted = "one of them; the other follows from the holder",
              .notes = {{table.place("stickout"), "the other one"}}});
    }
    if (!read.cutter.segments.empty()) {
        settle_segments(table, read.cutter, stickout.has_value());
    } else if (!says_stickout && !says_gauge && !measured) {
        table.require("stickout",
                      R"(holder face to tip, as in "58 mm"; or gauge_length, spindle to tip)");
    }
}

}  // namespace

ReadCutter read_cutter(TableReader& tool, const std::string& named, bool measured) {
    ReadCutter read;
    const std::string accepted =
        R"(a table: { diameter = "10 mm", teeth = 4, stickout = "50 mm" })";
    if (tool.require("cutter", accepted) == nullptr) {
        return read;
    }
    auto table = tool.table("cutter", accepted);
    if (!table) {
        return read;
    }
    read.cutter.diameter =
        required_quantity(*table, "diameter", Quantity::length, kToolPiece).value_or(0);
    table->require("teeth", "the number of teeth, as in 4");
    read.cutter.teeth = whole_number(*table, "teeth", 1, 100).value_or(0);
    read_sizes(*table, read.cutter);
    read_stickout(*table, read, measured);
    table->finish();
    if (read.cutter.diameter > 0) {
        assume_details(*table, read.cutter, named);
    }
    return read;
}

}  // namespace standfast
