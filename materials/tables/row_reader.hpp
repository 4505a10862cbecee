#pragma once

#include <toml++/toml.h>
#include <array>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "materials/source.hpp"
#include "materials/units.hpp"

namespace standfast {

/// Allowed interval of a bare number, ends included.
struct Interval {
    double low = 0, high = 0;
};

enum class Sign { positive, zero_or_more };

/// Reads one row of a table key by key and remembers which keys were asked for, so that the
/// others can be refused. Faults are collected, never thrown; a faulty value reads as 0 or empty.
class RowReader {
public:
    /// @param who     how messages speak of the row, as in `material "steel 1018"`
    /// @param errors  where "file:line:column: error: ..." lines go
    RowReader(const toml::table& row, std::string who, std::string_view file_name,
              std::vector<std::string>& errors)
        : row_(row), who_(std::move(who)), file_name_(file_name), errors_(errors) {}

    std::string required_text(std::string_view key);
    std::string text_or(std::string_view key, std::string_view fallback);
    std::vector<std::string> texts(std::string_view key);  ///< empty if left out
    bool flag_or(std::string_view key, bool fallback);
    double required_number(std::string_view key, Interval allowed);
    double number_or(std::string_view key, Interval allowed, double fallback);
    double required_quantity(std::string_view key, Quantity quantity, Sign sign = Sign::positive);
    double quantity_or(std::string_view key, Quantity quantity, double fallback, Sign sign);
    std::optional<double> optional_quantity(std::string_view key, Quantity quantity);
    /// Two quantities, the second the larger.
    std::optional<std::array<double, 2>> optional_range(std::string_view key, Quantity quantity);
    /// Index of the row's word in a list of words; 0 after an error.
    std::size_t required_choice(std::string_view key, const std::vector<std::string>& words);
    /// Rows of an array of tables under a key, each to be finished by its reader.
    std::vector<RowReader> required_rows(std::string_view key);
    /// `source` and `provenance`; both may be left out in a user's table.
    Source source();

    bool has(std::string_view key) const { return row_.get(key) != nullptr; }
    /// Says what is wrong with the row as a whole.
    void refuse(const std::string& what);
    /// Names every key that nobody asked for.
    void refuse_unknown_keys();

private:
    const toml::node* find(std::string_view key);
    const toml::node* require(std::string_view key);
    void refuse_at(const toml::source_region& place, const std::string& what);
    void refuse_value(const toml::node& node, std::string_view key, const std::string& what);
    std::string text_of(const toml::node& node, std::string_view key);
    double number_of(const toml::node& node, std::string_view key, Interval allowed);
    double quantity_of(const toml::node& node, std::string_view key, Quantity quantity, Sign sign);

    const toml::table& row_;
    std::string who_;
    std::string_view file_name_;
    std::vector<std::string>& errors_;
    std::set<std::string, std::less<>> asked_;
};

/// "file:line:column: error: "
std::string error_place(std::string_view file_name, const toml::source_position& place);

}  // namespace standfast
