#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

namespace standfast {

/// Every kind of quantity that a job or table may state, each with its own set of units.
enum class Quantity {
    length,              // m
    angle,               // rad
    mass,                // kg
    force,               // N
    torque,              // N m
    rotational_speed,    // rad/s
    surface_speed,       // m/s
    feed_speed,          // m/s
    frequency,           // Hz
    stiffness,           // N/m
    angular_stiffness,   // N m/rad
    stiffness_per_area,  // N/m^3
    pressure,            // Pa (also moduli and specific cutting force)
    force_per_length,    // N/m
    density,             // kg/m^3
    area,                // m^2
    second_moment,       // m^4
    inertia,             // kg m^2
    power,               // W
    percent,             // fraction of 1
    time,                // s
    number               // dimensionless, bare
};

enum class UnitSystem { metric, inch };

/// What a text with a unit came to, or why it could not be read.
struct ParsedQuantity {
    double value = 0;   ///< SI
    std::string error;  ///< empty when read; else one sentence, what is wrong and what fits
};

/// Reads a number with its unit: "150 mm", "6 in", "3/8 in", "1-1/2 in", "5 thou", "12000 rpm",
/// "80 N/um", "0.8 MN m/rad", "1e3 N". Spaces between number and unit are optional.
/// A missing unit, a comma for the decimal point, a unit of another quantity and a value that is
/// not finite are errors that say which units fit and name the nearest one.
/// 0 needs its unit too.
ParsedQuantity parse_quantity(std::string_view text, Quantity quantity);

/// As above for a text that may be of one of several quantities (a feed: length per tooth or
/// feed speed; a spindle speed: rotational or surface speed).
struct ParsedAlternative {
    Quantity quantity{};
    double value = 0;
    std::string error;
};
ParsedAlternative parse_quantity(std::string_view text, const std::vector<Quantity>& quantities);

/// "mm, in, thou, um, cm, m": the units that fit, commonest first.
std::string accepted_units(Quantity quantity);
/// "a length, as in \"150 mm\" or \"6 in\"".
std::string accepted_example(Quantity quantity);

/// Full-precision text that parse_quantity reads back to the same double, in the usual unit of
/// the system ("57.15 mm", "2.25 in", "9000 rpm"). Used for `set` lines and saved overlays.
std::string exact_text(double value, Quantity quantity, UnitSystem system);

}  // namespace standfast
