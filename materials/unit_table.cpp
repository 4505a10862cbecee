#include "materials/unit_table.hpp"

#include <algorithm>
#include <array>
#include <cctype>
#include <map>
#include <utility>

namespace standfast {
namespace {

using std::uint64_t;

constexpr uint64_t e3 = 1000, e4 = 10'000, e6 = 1'000'000, e9 = 1'000'000'000;
constexpr uint64_t e12 = e6 * e6, e13 = e12 * 10, e16 = e12 * e4, e17 = e16 * 10;
constexpr uint64_t pound = 45'359'237;                     // x 1e-8 kg
constexpr uint64_t pound_force = 44'482'216'152'605;       // x 1e-13 N
constexpr uint64_t inch = 254, foot = 3048;                // x 1e-4 m
constexpr uint64_t square_inch = 64'516;                   // x 1e-8 m^2
constexpr uint64_t cubic_inch = 16'387'064;                // x 1e-12 m^3
constexpr uint64_t kilogram_force = 980'665;               // x 1e-5 N
constexpr UnitSize foot_pound{pound_force * foot, e17};    // N m
constexpr UnitSize inch_pound{pound_force * inch, e17};    // N m
constexpr UnitSize pound_per_inch{pound_force, inch* e9};  // N/m

std::vector<Unit> length_units() {
    return {{"mm", {"millimetre", "millimetres", "millimeter", "millimeters"}, {1, e3}},
            {"in", {"inch", "inches", "\"", "''"}, {inch, e4}},
            {"thou", {"mil", "mils"}, {inch, e4 * e3}},
            {"um", {"micron", "microns", "micrometre", "micrometer"}, {1, e6}},
            {"cm", {"centimetre", "centimeter"}, {1, 100}},
            {"m", {"metre", "meter"}, {1, 1}},
            {"ft", {"foot", "feet", "'"}, {foot, e4}}};
}

std::vector<Unit> angle_units() {
    return {{"deg", {"degree", "degrees"}, {1, 180, 1}},
            {"rad", {"radian", "radians"}, {1, 1}},
            {"mrad", {}, {1, e3}},
            {"arcmin", {}, {1, 10'800, 1}},
            {"arcsec", {}, {1, 648'000, 1}}};
}

std::vector<Unit> mass_units() {
    return {{"kg", {"kilogram", "kilograms", "kilo", "kilos"}, {1, 1}},
            {"lb", {"lbs", "lbm", "pound", "pounds"}, {pound, 100 * e6}},
            {"g", {"gram", "grams"}, {1, e3}},
            {"oz", {"ounce", "ounces"}, {28'349'523'125, e12}},
            {"t", {"tonne", "tonnes"}, {e3, 1}}};
}

std::vector<Unit> force_units() {
    return {{"N", {"newton", "newtons"}, {1, 1}},
            {"kN", {}, {e3, 1}},
            {"lbf", {"lbsf"}, {pound_force, e13}},
            {"kgf", {"kp"}, {kilogram_force, 100 * e3}},
            {"daN", {}, {10, 1}},
            {"MN", {}, {e6, 1}}};
}

std::vector<Unit> torque_units() {
    return {{"N m", {}, {1, 1}},
            {"ft lb", {"ft lbf", "lb ft", "lbf ft", "ft lbs", "foot pounds"}, foot_pound},
            {"in lb", {"in lbf", "lb in", "lbf in", "in lbs", "inch pounds"}, inch_pound},
            {"kN m", {}, {e3, 1}},
            {"N mm", {}, {1, e3}},
            {"N cm", {}, {1, 100}},
            {"daN m", {}, {10, 1}},
            {"kgf m", {}, {kilogram_force, 100 * e3}}};
}

std::vector<Unit> rotational_speed_units() {
    return {{"rpm", {"rev/min", "r/min", "1/min", "min-1", "revs"}, {1, 30, 1}},
            {"rev/s", {"rps", "r/s"}, {2, 1, 1}},
            {"rad/s", {}, {1, 1}}};
}

std::vector<Unit> surface_speed_units() {
    return {{"m/min", {"mpm"}, {1, 60}},
            {"sfm", {"sfpm", "ft/min", "fpm"}, {foot, 60 * e4}},
            {"m/s", {}, {1, 1}}};
}

std::vector<Unit> feed_speed_units() {
    return {{"mm/min", {"mmpm"}, {1, 60 * e3}},
            {"ipm", {"in/min"}, {inch, 60 * e4}},
            {"m/min", {}, {1, 60}},
            {"mm/s", {}, {1, e3}},
            {"in/s", {"ips"}, {inch, e4}},
            {"m/s", {}, {1, 1}}};
}

std::vector<Unit> stiffness_units() {
    return {{"N/um", {"N/micron"}, {e6, 1}},
            {"N/mm", {}, {e3, 1}},
            {"kN/mm", {}, {e6, 1}},
            {"MN/m", {}, {e6, 1}},
            {"N/m", {}, {1, 1}},
            {"kN/m", {}, {e3, 1}},
            {"kN/um", {"kN/micron"}, {e9, 1}},
            {"GN/m", {}, {e9, 1}},
            {"lbf/in", {"lb/in", "lbs/in"}, pound_per_inch},
            {"lbf/thou", {"lb/thou", "lbf/mil", "lb/mil"}, {pound_force, inch * e6}}};
}

std::vector<Unit> angular_stiffness_units() {
    return {{"MN m/rad", {}, {e6, 1}},
            {"kN m/rad", {}, {e3, 1}},
            {"N m/rad", {}, {1, 1}},
            {"N m/mrad", {}, {e3, 1}},
            {"kN m/mrad", {}, {e6, 1}},
            {"N m/urad", {}, {e6, 1}},
            {"N m/deg", {}, {180, 1, -1}},
            {"ft lb/mrad", {"ft lbf/mrad"}, {foot_pound.numerator, foot_pound.denominator / e3}},
            {"ft lb/rad", {"ft lbf/rad", "lbf ft/rad", "lb ft/rad"}, foot_pound},
            {"in lb/rad", {"in lbf/rad", "lbf in/rad", "lb in/rad"}, inch_pound}};
}

std::vector<Unit> stiffness_per_area_units() {
    return {{"N/um/mm2", {"N/(um mm2)", "N/um mm2"}, {e12, 1}},
            {"N/um/cm2", {"N/(um cm2)", "N/um cm2"}, {e9 * 10, 1}},
            {"N/mm3", {}, {e9, 1}},
            {"N/m3", {"Pa/m"}, {1, 1}},
            {"MN/m3", {}, {e6, 1}},
            {"GN/m3", {}, {e9, 1}},
            {"lbf/in3", {"psi/in"}, {pound_force, cubic_inch * 10}}};
}

std::vector<Unit> pressure_units() {
    return {{"N/mm2", {}, {e6, 1}},
            {"MPa", {}, {e6, 1}},
            {"GPa", {}, {e9, 1}},
            {"psi", {"lbf/in2", "lb/in2"}, {pound_force, square_inch * e4 * 10}},
            {"ksi", {}, {pound_force, square_inch * 100}},
            {"Msi", {}, {pound_force * 10, square_inch}},
            {"kN/mm2", {}, {e9, 1}},
            {"kPa", {}, {e3, 1}},
            {"Pa", {"N/m2"}, {1, 1}},
            {"bar", {}, {e4 * 10, 1}},
            {"kgf/mm2", {}, {kilogram_force * 10, 1}},
            {"kgf/cm2", {}, {kilogram_force, 10}}};
}

std::vector<Unit> density_units() {
    return {{"kg/m3", {}, {1, 1}},
            {"g/cm3", {"g/cc", "kg/dm3", "kg/l"}, {e3, 1}},
            {"lb/in3", {"lbs/in3"}, {pound * e4, cubic_inch}},
            {"lb/ft3", {"lbs/ft3"}, {pound * e4, cubic_inch * 1728}}};
}

std::vector<Unit> inertia_units() {
    return {{"kg m2", {}, {1, 1}},
            {"kg mm2", {}, {1, e6}},
            {"kg cm2", {}, {1, e4}},
            {"lb in2", {}, {pound * square_inch, e16}},
            {"lb ft2", {}, {pound * square_inch * 144, e16}}};
}

std::map<Quantity, QuantityUnits> make_table() {
    using enum Quantity;
    return {
        {length, {"a length", R"("150 mm" or "6 in")", "mm", "in", length_units()}},
        {angle, {"an angle", R"("20 deg")", "deg", "deg", angle_units()}},
        {mass, {"a mass", R"("3.2 kg" or "7 lb")", "kg", "lb", mass_units()}},
        {force, {"a force", R"("200 N", "40 kN" or "45 lbf")", "N", "lbf", force_units()}},
        {torque, {"a torque", R"("25 N m" or "18 ft lb")", "N m", "ft lb", torque_units()}},
        {rotational_speed,
         {"a spindle speed", R"("12000 rpm")", "rpm", "rpm", rotational_speed_units()}},
        {surface_speed,
         {"a surface speed", R"("120 m/min" or "400 sfm")", "m/min", "sfm", surface_speed_units()}},
        {feed_speed,
         {"a feed", R"("900 mm/min" or "35 ipm")", "mm/min", "ipm", feed_speed_units()}},
        {frequency,
         {"a frequency", R"("1480 Hz")", "Hz", "Hz", {{"Hz", {}, {1, 1}}, {"kHz", {}, {e3, 1}}}}},
        {stiffness,
         {"a stiffness", R"("80 N/um" or "450000 lbf/in")", "N/um", "lbf/in", stiffness_units()}},
        {angular_stiffness,
         {"a tilting or twisting stiffness", R"("0.8 MN m/rad")", "N m/rad", "ft lb/rad",
          angular_stiffness_units()}},
        {stiffness_per_area,
         {"a stiffness per contact area", R"("0.05 N/um/mm2")", "N/um/mm2", "lbf/in3",
          stiffness_per_area_units()}},
        {pressure,
         {"a pressure or modulus", R"("1650 N/mm2" or "205 GPa")", "N/mm2", "psi",
          pressure_units()}},
        {force_per_length,
         {"a force per length of edge",
          R"("22 N/mm")",
          "N/mm",
          "lbf/in",
          {{"N/mm", {}, {e3, 1}},
           {"N/m", {}, {1, 1}},
           {"kN/m", {}, {e3, 1}},
           {"lbf/in", {"lb/in"}, pound_per_inch}}}},
        {density,
         {"a density", R"("7850 kg/m3" or "0.284 lb/in3")", "kg/m3", "lb/in3", density_units()}},
        {area,
         {"an area",
          R"("1200 mm2")",
          "mm2",
          "in2",
          {{"mm2", {"sq mm"}, {1, e6}},
           {"in2", {"sq in"}, {square_inch, 100 * e6}},
           {"cm2", {}, {1, e4}},
           {"m2", {}, {1, 1}}}}},
        {second_moment,
         {"a second moment of area",
          R"("450000 mm4")",
          "mm4",
          "in4",
          {{"mm4", {}, {1, e12}},
           {"in4", {}, {square_inch * square_inch, e16}},
           {"cm4", {}, {1, 100 * e6}},
           {"m4", {}, {1, 1}}}}},
        {inertia, {"an inertia", R"("0.02 kg m2")", "kg m2", "lb in2", inertia_units()}},
        {power,
         {"a power",
          R"("7.5 kW" or "10 hp")",
          "kW",
          "hp",
          {{"kW", {}, {e3, 1}},
           {"W", {}, {1, 1}},
           {"hp", {"horsepower"}, {foot_pound.numerator * 55, foot_pound.denominator / 10}}}}},
        {percent, {"a percentage", R"("3 %")", "%", "%", {{"%", {"percent", "pct"}, {1, 100}}}}},
        {time,
         {"a time",
          R"("2 s")",
          "s",
          "s",
          {{"s", {"sec", "seconds"}, {1, 1}},
           {"ms", {}, {1, e3}},
           {"min", {}, {60, 1}},
           {"h", {}, {3600, 1}}}}},
        {number, {"a number without a unit", R"("0.3")", "", "", {{"", {}, {1, 1}}}}},
    };
}

const std::map<Quantity, QuantityUnits>& table() {
    static const std::map<Quantity, QuantityUnits> units = make_table();
    return units;
}

bool same_letters(std::string_view a, std::string_view b, bool forgive_case) {
    const auto lower = [](char c) {
        return static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
    };
    return std::equal(a.begin(), a.end(), b.begin(), b.end(), [&](char x, char y) {
        return x == y || (forgive_case && lower(x) == lower(y));
    });
}

bool answers_to(const Unit& unit, std::string_view plain, bool forgive_case) {
    const auto matches = [&](std::string_view spelling) {
        const std::string own = plain_spelling(spelling);
        // "mN m/rad" must not be read as meganewtons: nine orders of magnitude.
        const bool mega = own.size() > 1 && own.front() == 'M';
        if (mega && !plain.starts_with('M')) return false;
        return same_letters(own, plain, forgive_case);
    };
    return matches(unit.symbol) ||
           std::any_of(unit.spellings.begin(), unit.spellings.end(), matches);
}

}  // namespace

const QuantityUnits& units_of(Quantity quantity) { return table().at(quantity); }

std::span<const Quantity> all_quantities() {
    using enum Quantity;
    static constexpr std::array list{length,
                                     angle,
                                     mass,
                                     force,
                                     torque,
                                     rotational_speed,
                                     surface_speed,
                                     feed_speed,
                                     frequency,
                                     stiffness,
                                     angular_stiffness,
                                     stiffness_per_area,
                                     pressure,
                                     force_per_length,
                                     density,
                                     area,
                                     second_moment,
                                     inertia,
                                     power,
                                     percent,
                                     time,
                                     number};
    return list;
}

std::string plain_spelling(std::string_view unit) {
    static constexpr std::array<std::pair<std::string_view, std::string_view>, 10> letters{{
        {"\xC2\xB5", "u"},       // micro sign
        {"\xCE\xBC", "u"},       // Greek mu
        {"\xC2\xB0", "deg"},     // degree sign
        {"\xC2\xB2", "2"},       // raised 2
        {"\xC2\xB3", "3"},       // raised 3
        {"\xE2\x81\xB4", "4"},   // raised 4
        {"\xC2\xB7", ""},        // middle dot
        {"\xE2\x8B\x85", ""},    // dot operator
        {"\xE2\x80\xB3", "\""},  // double prime
        {"\xE2\x80\xB2", "'"},   // prime
    }};
    std::string plain;
    while (!unit.empty()) {
        const auto* const letter =
            std::find_if(letters.begin(), letters.end(),
                         [&](const auto& entry) { return unit.starts_with(entry.first); });
        if (letter != letters.end()) {
            plain += letter->second;
            unit.remove_prefix(letter->first.size());
            continue;
        }
        if (std::string_view(" \t.-*^()").find(unit.front()) == std::string_view::npos) {
            plain += unit.front();
        }
        unit.remove_prefix(1);
    }
    return plain;
}

const Unit* find_unit(Quantity quantity, std::string_view spelling) {
    for (const Unit& unit : units_of(quantity).units) {
        if (unit.symbol == spelling) return &unit;
    }
    const std::string plain = plain_spelling(spelling);
    if (plain.empty() && !spelling.empty()) return nullptr;
    for (const bool forgive_case : {false, true}) {
        for (const Unit& unit : units_of(quantity).units) {
            if (answers_to(unit, plain, forgive_case)) return &unit;
        }
    }
    return nullptr;
}

}  // namespace standfast
