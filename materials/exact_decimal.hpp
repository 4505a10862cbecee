#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "materials/unit_table.hpp"

namespace standfast {

/// A number as it was written: (-1)^negative x mantissa x 10^exponent / divisor.
struct WrittenNumber {
    bool negative = false;
    std::uint64_t mantissa = 0;
    int exponent = 0;
    std::uint64_t divisor = 1;
};

/// Beyond these magnitudes (SI) a value is refused: no quantity of a machine shop is there.
inline constexpr double largest_magnitude = 1e100;
inline constexpr double smallest_magnitude = 1e-100;

/// number x size, rounded once to the nearest double (worked in twice the precision, so that
/// "57.15 mm" is the double nearest to 0.05715). None if beyond the magnitudes above.
std::optional<double> in_si(const WrittenNumber& number, const UnitSize& size);

/// The shortest decimal that in_si turns back into exactly `value`; |value| within the
/// magnitudes above, or 0.
WrittenNumber shortest_decimal(double value, const UnitSize& size);

/// "57.15", "-0.3", "1.5e+12"
std::string decimal_text(const WrittenNumber& number);

}  // namespace standfast
