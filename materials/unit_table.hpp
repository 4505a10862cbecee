#pragma once

#include <cstdint>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "materials/units.hpp"

namespace standfast {

/// Exact size of a unit in SI: numerator / denominator x pi^pi_power.
struct UnitSize {
    std::uint64_t numerator = 1;
    std::uint64_t denominator = 1;
    int pi_power = 0;  ///< -1, 0 or 1
};

/// One unit of a quantity. Spellings are compared without spaces, dots, hyphens, `*` and `^`.
struct Unit {
    std::string_view symbol;                  ///< as we write it, as in "N m/rad"
    std::vector<std::string_view> spellings;  ///< others that are read
    UnitSize size;
};

/// The units of one quantity, commonest first, and how to speak of it.
struct QuantityUnits {
    std::string_view phrase;        ///< "a length"
    std::string_view examples;      ///< "\"150 mm\" or \"6 in\""
    std::string_view metric, inch;  ///< symbols that exact_text writes
    std::vector<Unit> units;
};

/// Sizes by definition: inch 25.4 mm, pound 0.45359237 kg (international yard and pound
/// agreement, 1959), standard gravity 9.80665 m/s^2 (3rd CGPM, 1901); from memory.
const QuantityUnits& units_of(Quantity quantity);

/// Every quantity there is.
std::span<const Quantity> all_quantities();

/// Spelling for comparison: no spaces, dots, hyphens, `*`, `^` or brackets; micro, degree, raised
/// digits and middle dots in plain letters.
std::string plain_spelling(std::string_view unit);

/// The unit of the quantity that answers to this spelling, or nullptr. Letter case is forgiven
/// where it cannot be mistaken; an M for mega must be given as M.
const Unit* find_unit(Quantity quantity, std::string_view spelling);

}  // namespace standfast
