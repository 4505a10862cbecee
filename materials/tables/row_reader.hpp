#pragma once

#include <array>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <string_view>
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
    struct State;  ///< the row in its parsed file, and which keys were asked for
    explicit RowReader(std::unique_ptr<State> state);
    RowReader(RowReader&&) noexcept;
    RowReader& operator=(RowReader&&) noexcept;
    RowReader(const RowReader&) = delete;
    RowReader& operator=(const RowReader&) = delete;
    ~RowReader();

    /// From the heading [material."name"], else from the key that names rows of its table.
    std::string name();
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

    bool has(std::string_view key) const;
    /// Says what is wrong with the row as a whole.
    void refuse(const std::string& what);
    /// Names every key that nobody asked for.
    void refuse_unknown_keys();

private:
    std::unique_ptr<State> state_;
};

/// One table of a file and the key that names its rows, as in {"material", "name"}.
struct RowKind {
    std::string_view table, name_key;
};

struct FoundRow {
    std::size_t kind = 0;  ///< index into the kinds asked for
    RowReader reader;
};

/// All rows of a TOML text, written [[material]] or [material."name"], table by table. Text that
/// is no TOML and tables that are not among `kinds` go to `errors` as "file:line:column: error:
/// ..." lines, as do the faults that the readers find later; `errors` must outlive the readers.
std::vector<FoundRow> find_rows(std::string_view text, std::string_view file_name,
                                std::span<const RowKind> kinds, std::vector<std::string>& errors);

}  // namespace standfast
