#pragma once

#include <Eigen/Core>
#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "cli/job/read/table_reader.hpp"
#include "materials/units.hpp"

namespace standfast {

/// Which values make sense, SI. Bounds that a user should see are part of the message.
struct Range {
    std::optional<double> low{};
    bool above_low = false;  ///< low itself is refused
    std::optional<double> high{};
    /// Below this, a value above `low` is a slip, as above `high`; only named where it was passed.
    std::optional<double> least{};
};

constexpr Range kAny{};
constexpr Range kNotNegative{.low = 0};
constexpr Range kPositive{.low = 0, .above_low = true};
/// Sizes of what stands on a table and of tools; what lies outside is a slip of the unit.
constexpr Range kSize{.low = 0, .above_low = true, .high = 5, .least = 1e-4};
constexpr Range kToolSize{.low = 0, .above_low = true, .high = 1};
/// Pieces that a tool is made of.
constexpr Range kToolPiece{.low = 0, .above_low = true, .high = 1, .least = 1e-5};
/// What a cut takes off.
constexpr Range kCutDepth{.low = 0, .above_low = true, .high = 1, .least = 1e-7};
/// Places and distances on a stack, of either sign.
constexpr Range kPlace{.low = -5, .high = 5};
/// N/m, N m/rad; above this a spring is rigid for every purpose and only spoils the numbers.
constexpr Range kStiffness{.low = 0, .above_low = true, .high = 1e13};
constexpr Range kForce{.low = 0, .above_low = true, .high = 1e7};
constexpr Range kMass{.low = 0, .above_low = true, .high = 1e5};
constexpr Range kLoss{.low = 0, .high = 2};
constexpr Range kTurn{.low = -6.2831853071795872, .high = 6.2831853071795872};

/// A usual value as a job would write it, so that it prints as short as it was meant.
double usual(std::string_view text, Quantity quantity);

/// "a length greater than 0, as in \"150 mm\" or \"6 in\"". The upper bound is only there to catch
/// slips; it is named where it was passed.
std::string accepted_quantity(Quantity quantity, const Range& range);

/// A value with its unit, SI, or none, with the fault reported: a bare number, a wrong unit, a
/// value out of range. `key` is for the message; `value` is where it stands.
std::optional<double> quantity_of(TableReader& table, std::string_view key, const Value& value,
                                  Quantity quantity, const Range& range);
/// The same by key; a missing key gives none without a fault.
std::optional<double> quantity(TableReader& table, std::string_view key, Quantity quantity,
                               const Range& range);
/// The same; a missing key is a fault.
std::optional<double> required_quantity(TableReader& table, std::string_view key, Quantity quantity,
                                        const Range& range);
/// A text that may be of one of several quantities, and must be positive.
struct Alternative {
    Quantity quantity{};
    double value = 0;  ///< SI
};
std::optional<Alternative> alternative_of(TableReader& table, std::string_view key,
                                          const Value& value,
                                          const std::vector<Quantity>& quantities,
                                          const std::string& accepted);
/// A bare number, as of teeth or a loss factor.
std::optional<double> number_of(TableReader& table, std::string_view key, const Value& value,
                                const Range& range);
std::optional<double> number(TableReader& table, std::string_view key, const Range& range);
std::optional<int> whole_number(TableReader& table, std::string_view key, int low, int high);
/// A fraction, bare or in percent: 0.03 or "3 %".
std::optional<double> fraction(TableReader& table, std::string_view key, const Range& range);

/// A list of so many values with units.
std::optional<std::vector<double>> quantities_of(TableReader& table, std::string_view key,
                                                 const Value& value, Quantity quantity,
                                                 const Range& range, std::size_t least,
                                                 std::size_t most);
std::optional<std::vector<double>> quantities(TableReader& table, std::string_view key,
                                              Quantity quantity, const Range& range,
                                              std::size_t least, std::size_t most);
/// One value that serves both directions, or a list of two.
std::optional<std::array<double, 2>> one_or_two(TableReader& table, std::string_view key,
                                                Quantity quantity, const Range& range);
std::optional<Eigen::Vector3d> vector_of(TableReader& table, std::string_view key,
                                         const Value& value, Quantity quantity, const Range& range);
std::optional<Eigen::Vector3d> vector(TableReader& table, std::string_view key, Quantity quantity,
                                      const Range& range);
/// A direction: "x", "+y", "-z" or a list of three bare numbers, not all zero. Not normalised.
std::optional<Eigen::Vector3d> direction(TableReader& table, std::string_view key);
/// A window [from, to], from < to.
std::optional<std::array<double, 2>> window(TableReader& table, std::string_view key,
                                            Quantity quantity, const Range& range);

}  // namespace standfast
