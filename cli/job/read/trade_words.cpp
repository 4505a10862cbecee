#include "cli/job/read/trade_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <vector>

#include "materials/lookup_key.hpp"

namespace standfast {
namespace {

/// Words of the trade for one key; from shop talk, tool makers' tables (ISO 13399 and ISO 3002
/// symbols: ap, ae, fz, vc) and drawings. Common practice, no one source.
struct TradeWords {
    std::string_view table;  ///< kind of table that has the key
    std::string_view key;
    std::string_view meaning;
    std::string_view example;
    std::vector<std::string_view> words;  ///< as lookup_key makes them: lower case, joined
};

const std::vector<TradeWords>& trade_words() {
    static const std::vector<TradeWords> rows{
        {"pass",
         "axial",
         "the depth along the tool",
         R"(axial = "12 mm" or "0.5 in")",
         {"doc", "adoc", "ap", "stepdown", "depth", "depthofcut", "axialdepth", "axialdoc", "dz",
          "zdepth", "zstep", "axialdepthofcut", "cutdepth"}},
        {"pass",
         "radial",
         "the width that the tool takes off sideways",
         R"(radial = "0.3 mm" or "3 %" of the diameter)",
         {"woc", "rdoc", "ae", "stepover", "width", "widthofcut", "radialdepth", "radialdoc",
          "radialdepthofcut", "sidestep", "cutwidth", "engagement", "radialengagement"}},
        {"pass",
         "feed",
         "per tooth, or a feed speed",
         R"(feed = "0.06 mm" or "0.0024 in" a tooth, or "900 mm/min" or "35 ipm")",
         {"chipload", "chip", "chipthickness", "fpt", "ipt", "fz", "feedpertooth", "feedrate", "f",
          "ipm", "mmpm", "mmmin", "mm/min", "feedspeed", "vf", "cutfeed", "cuttingfeed"}},
        {"pass",
         "speed",
         "of the spindle, or a cutting speed",
         R"(speed = "9000 rpm")",
         {"rpm", "s", "n", "spindle", "spindlespeed", "rev", "revs", "spindlerpm"}},
        {"pass",
         "speed",
         "of the spindle, or a cutting speed",
         R"(speed = "400 sfm" or "120 m/min")",
         {"sfm", "sfpm", "smm", "vc", "surfacespeed", "surfacefeet", "cuttingspeed", "cutspeed"}},
        {"pass",
         "milling",
         "which way it cuts",
         R"(milling = "down" (climb), "up" (conventional) or "slot")",
         {"climb", "conventional", "direction", "cutdirection", "side"}},
        {"pass",
         "leave",
         "what it is to leave for the next pass",
         R"(leave = "0.3 mm")",
         {"stocktoleave", "leavestock", "allowance", "finishallowance", "stock", "remaining"}},
        {"pass", "tolerance", "total, of the wall", R"(tolerance = "0.02 mm")", {"tol"}},
        {"pass",
         "cutting",
         "the cutting data, unless they go with the tier's material",
         R"(cutting = "6061")",
         {"material", "workmaterial", "workpiecematerial"}},
        {"pass", "tier", "the tier that is cut", R"(tier = "part")", {"part", "workpiece"}},
        {"pass", "tool", "the name of a tool", R"(tool = "finisher")", {"t", "toolname", "cutter"}},
        {"tool.cutter",
         "diameter",
         "of the cutting end",
         R"(diameter = "10 mm" or "3/8 in")",
         {"dia", "diam", "d", "dc", "d1", "cutterdiameter", "tooldiameter", "size"}},
        {"tool.cutter",
         "teeth",
         "how many cut",
         "teeth = 4",
         {"flutes", "z", "nof", "zn", "numberofflutes", "numberofteeth", "fluteno", "flutecount",
          "toothcount", "inserts", "edges"}},
        {"tool.cutter",
         "flute",
         "the length that cuts",
         R"(flute = "25 mm")",
         {"loc", "lengthofcut", "flutelength", "cuttinglength", "apmax", "l2"}},
        {"tool.cutter",
         "overall",
         "its whole length",
         R"(overall = "100 mm")",
         {"oal", "overalllength", "length", "totallength", "l1"}},
        {"tool.cutter",
         "stickout",
         "holder face to tip",
         R"(stickout = "58 mm"; or gauge_length, spindle to tip)",
         {"projection", "overhang", "stick", "protrusion", "toolstickout", "reach"}},
        {"tool.cutter",
         "gauge_length",
         "spindle gauge line to tip",
         R"(gauge_length = "150 mm"; or stickout, holder face to tip)",
         {"gaugelength", "gagelength", "gauge", "gage", "toollength", "h"}},
        {"tool.cutter",
         "corner",
         "the radius at the corner",
         R"(corner = "0.5 mm")",
         {"cornerradius", "cr", "radius", "noseradius", "re", "r"}},
        {"tool.cutter", "helix", "its angle", R"(helix = "40 deg")", {"helixangle"}},
        {"tool.cutter",
         "shank",
         "its diameter",
         R"(shank = "10 mm")",
         {"shankdiameter", "shankdia", "shaft", "dmm", "d2"}},
        {"tool.cutter", "runout", "as an indicator reads it", R"(runout = "0.01 mm")", {"tir"}},
        {"tool",
         "cutter",
         "a table of what cuts",
         R"(cutter = { diameter = "10 mm", teeth = 4, stickout = "40 mm" })",
         {"endmill", "mill", "diameter", "dia", "d", "flutes", "teeth", "stickout", "z", "length"}},
        {"tool",
         "grip",
         "what holds the shank",
         R"(grip = "collet", "shrink", "hydraulic" or "side-lock")",
         {"collet", "chuck", "clamping", "holdertype", "toolholder"}},
        {"tool",
         "taper",
         "what sits in the spindle",
         R"(taper = "BT40")",
         {"spindle", "shanktype", "interface"}},
        {"tool",
         "speed_max",
         "the fastest that holder and cutter may turn",
         R"(speed_max = "22000 rpm")",
         {"rpm", "maxrpm", "rpmmax", "maxspeed", "speed", "speedlimit", "nmax"}},
        {"machine",
         "speed",
         "the slowest and the fastest",
         R"(speed = ["500 rpm", "12000 rpm"])",
         {"rpm", "maxrpm", "rpmmax", "speeds", "speedmax", "maxspeed", "spindlespeed",
          "speedrange"}},
        {"machine",
         "kind",
         "how it is built",
         R"(kind = "3-axis" or "5-axis, table tilts"; "standfast materials" lists them)",
         {"type", "axes", "axis", "configuration", "model"}},
        {"machine",
         "taper",
         "the spindle's",
         R"(taper = "BT40")",
         {"spindletaper", "interface", "toolholder"}},
        {"machine",
         "power",
         "the spindle's",
         R"(power = "15 kW" or "20 hp")",
         {"kw", "hp", "spindlepower", "horsepower"}},
        {"machine",
         "carry_max",
         "what the table may carry",
         R"(carry_max = "35 kg")",
         {"maxload", "tableload", "payload", "maxweight", "weight", "load"}},
        {"tier",
         "height",
         "above its joint",
         R"(height = "150 mm" or "6 in")",
         {"thickness", "z", "length", "h", "tall"}},
        {"tier",
         "round",
         "of a round section, its diameter",
         R"(round = "100 mm")",
         {"diameter", "dia", "od", "d", "cylinder"}},
        {"tier",
         "tube",
         "of a hollow round section, outside and bore",
         R"(tube = ["110 mm", "70 mm"])",
         {"id", "bore", "pipe"}},
        {"tier",
         "block",
         "of a rectangular section, x and y",
         R"(block = ["70 mm", "50 mm"])",
         {"size", "width", "square", "rectangle", "xy", "x", "y", "stock"}},
        {"tier",
         "material",
         "by name",
         R"(material = "6061"; "standfast materials" lists them)",
         {"mat", "alloy", "grade"}},
        {"tier",
         "joint",
         "what holds it down",
         R"(joint = { kind = "dovetail", width = "32 mm", clamp = "18 kN" })",
         {"clamping", "hold", "holding", "workholding", "fixture", "vice", "dovetail", "bolts",
          "screws", "clamp"}},
        {"tier", "on", "the tier that it stands on", R"(on = "tower")", {"host", "parent"}},
        {"tier",
         "at",
         "where on its host it stands",
         R"(at = ["40 mm", "0 mm", "72 mm"])",
         {"position", "offset", "place", "location"}},
        {"tier",
         "lean",
         "the angle between its axis and its host's",
         R"(lean = "20 deg")",
         {"angle", "tilt", "incline", "inclination"}},
        {"tier.joint",
         "screws",
         "how many",
         R"(screws = 4, size = "M12", torque = "85 N m")",
         {"bolts", "bolt", "numberofbolts", "numberofscrews", "fasteners", "capscrews"}},
        {"tier.joint",
         "size",
         "of the screws",
         R"(size = "M12" or "1/2-13")",
         {"boltsize", "screwsize", "thread", "screw", "diameter"}},
        {"tier.joint",
         "torque",
         "of each screw",
         R"(torque = "85 N m" or "63 ft lb")",
         {"tightening", "tighteningtorque", "bolttorque", "screwtorque"}},
        {"tier.joint",
         "clamp",
         "the horizontal force on each flank or jaw",
         R"(clamp = "18 kN" or "4000 lbf")",
         {"clampforce", "clampingforce", "force", "gripforce", "jawforce", "pressure"}},
        {"tier.joint",
         "preload",
         "the pull of the whole joint",
         R"(preload = "25 kN")",
         {"pulldown", "drawforce", "pullforce", "retention"}},
        {"tier.joint",
         "flank",
         "of a dovetail, from its base",
         R"(flank = "60 deg")",
         {"angle", "dovetailangle", "flankangle"}},
        {"tier.joint",
         "width",
         "of a dovetail, its neck",
         R"(width = "32 mm")",
         {"neck", "neckwidth", "dovetailwidth"}},
        {"tier.joint", "friction", "a bare number", "friction = 0.15", {"mu", "cof"}},
        {"tier.joint",
         "loss",
         "its damping, as a loss factor",
         "loss = 0.03",
         {"damping", "lossfactor", "eta"}},
    };
    return rows;
}

/// Tables that describe the same thing: a riser of the shelf and a hold of a trade are tiers.
std::string_view told_of(std::string_view table) {
    if (table == "riser" || table == "trade.hold") return "tier";
    return table == "riser.joint" || table == "trade.hold.joint" ? "tier.joint" : table;
}

bool names(const TradeWords& row, const std::string& word) {
    return std::ranges::find(row.words, word) != row.words.end();
}

std::string shown_table(std::string_view table) {
    if (table == "tool.cutter") return "the cutter of a [[tool]]";
    if (table == "tier.joint") return "the joint of a [[tier]]";
    return table == "machine" ? "[machine]" : fmt::format("[[{}]]", table);
}

}  // namespace

std::string table_kind(std::string_view path) {
    std::string kind;
    bool left_out = false;
    for (std::size_t i = 0; i < path.size(); ++i) {
        const char c = path[i];
        if (c == '"') {
            // A name given by the job: all up to its end, and the dot before it.
            if (kind.ends_with('.')) kind.pop_back();
            const std::size_t end = path.rfind('"');
            i = end > i ? end : path.size();
        } else if (c == '[') {
            left_out = true;
        } else if (c == ']') {
            left_out = false;
        } else if (!left_out) {
            kind += c;
        }
    }
    return kind;
}

std::string trade_word_here(std::string_view word, std::string_view table) {
    const std::string key = lookup_key(word.substr(0, 60));
    for (const TradeWords& row : trade_words()) {
        if (row.table == told_of(table) && names(row, key)) {
            return fmt::format("here it is called {}, {}: {}", row.key, row.meaning, row.example);
        }
    }
    return {};
}

std::string trade_word_elsewhere(std::string_view word, std::string_view table) {
    const std::string key = lookup_key(word.substr(0, 60));
    for (const TradeWords& row : trade_words()) {
        if (row.table != told_of(table) && names(row, key)) {
            return fmt::format("it is called {}, {}, and belongs to {}: {}", row.key, row.meaning,
                               shown_table(row.table), row.example);
        }
    }
    return {};
}

}  // namespace standfast
