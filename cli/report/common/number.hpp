#pragma once

#include <string>

#include "fea/quantities/quantities.hpp"
#include "materials/units.hpp"

namespace standfast {

// Numbers as a shop writes them. Every function takes SI and gives plain text with its unit.
// Full precision is for JSON and CSV; here a figure has the digits that can be acted on.

/// Fixed decimals without trailing zeros: 7.50 -> "7.5", -0.0 -> "0".
std::string trimmed(double value, int decimals);

/// A size as programmed: "57.15 mm", "2.25 in" (0.001 mm, 0.0001 in at most).
std::string length_text(double metres, UnitSystem units);

/// A depth of cut to 0.5 mm or 0.02 in; below 2 mm (0.08 in), where half a millimetre would be
/// most of it, to 0.1 mm or 0.005 in.
std::string depth_text(double metres, UnitSystem units);

/// A depth that is promised, rounded down to what can be set: to 0.1 mm (below 1 mm to 0.01 mm) or
/// to 0.001 in. Taken as it stands, the cut is no deeper than the one that was judged.
std::string depth_to_set(double metres, UnitSystem units);

/// As depth_text, with as many digits more as it takes for the rounding to take no more than half
/// of the gap to a programmed depth that is shown beside it; so it also stays on its side.
std::string depth_text_beside(double metres, double programmed, UnitSystem units);

/// Magnitude of an error or a vibration to 0.001 mm or 0.0001 in; "under 0.001 mm" below half of
/// that.
std::string error_text(double metres, UnitSystem units);

/// What is left on the wall, in words and never by a sign. error > 0 is cut too deep.
/// "cut too deep 0.012 mm", "stock left 0.012 mm", "on size within 0.001 mm".
std::string wall_text(double error, UnitSystem units);

/// "9000 rpm", to 10 rpm (to 1 rpm below 100).
std::string speed_text(SpindleSpeed speed);

enum class Toward { nearest, down, up };
/// The number alone, rounded to 10 rpm in the given sense: the ends of a quiet band go inward.
std::string speed_number(SpindleSpeed speed, Toward toward);

/// "2160 mm/min", "85.1 ipm".
std::string feed_number(double metres_per_second, UnitSystem units);  ///< without its unit
std::string feed_text(double metres_per_second, UnitSystem units);

std::string force_text(double newtons, UnitSystem units);         ///< "240 N", "54 lbf"
std::string mass_text(double kilograms, UnitSystem units);        ///< "8.4 kg", "18.5 lb"
std::string moment_text(double newton_metres, UnitSystem units);  ///< "31 N m", "23 ft lb"
std::string power_text(double watts, UnitSystem units);           ///< "7.5 kW", "10.1 hp"
std::string stress_text(double pascals, UnitSystem units);        ///< "310 MPa", "45 ksi"
std::string cutting_speed_text(double metres_per_second, UnitSystem units);  ///< "m/min", "sfm"
std::string frequency_text(double hertz);                                    ///< "1480 Hz"
std::string percent_text(double fraction);                                   ///< "41 %"

/// Three significant digits without an exponent: 1234 -> "1230", 0.4567 -> "0.457".
std::string three_digits(double value);

/// Any value with its quantity, for lists of assumptions: "57.2 mm", "0.04", "80 N/um".
std::string quantity_text(double value, Quantity quantity, UnitSystem units);

}  // namespace standfast
