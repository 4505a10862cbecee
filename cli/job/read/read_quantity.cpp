#include "cli/job/read/read_quantity.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <string>

namespace standfast {
namespace {

bool fits(double value, const Range& range) {
    const bool low = !range.low || (range.above_low ? value > *range.low : value >= *range.low);
    return std::isfinite(value) && low && (!range.high || value <= *range.high) &&
           (!range.least || value >= *range.least);
}

std::string range_in_words(Quantity quantity, const Range& range) {
    const auto text = [&](double value) {
        return value == 0 || quantity == Quantity::number
                   ? fmt::format("{:g}", value)
                   : exact_text(value, quantity, UnitSystem::metric);
    };
    std::string words;
    if (range.low) {
        words = fmt::format(" {} {}", range.above_low ? "greater than" : "of at least",
                            text(*range.low));
    }
    if (range.high) {
        words += fmt::format("{} at most {}", words.empty() ? " of" : " and", text(*range.high));
    }
    return words;
}

std::string accepted_within(Quantity quantity, const Range& range) {
    const std::string example = accepted_example(quantity);
    const std::size_t comma = std::min(example.find(','), example.size());
    return example.substr(0, comma) + range_in_words(quantity, range) + example.substr(comma);
}

/// The same text in millimetres, where metres were surely a slip.
std::string unit_slip_hint(const std::string& text, Quantity quantity, const Range& range) {
    if (quantity != Quantity::length || !text.ends_with('m') || text.size() < 2) {
        return {};
    }
    const char before = text[text.size() - 2];
    if (before != ' ' && (before < '0' || before > '9')) {
        return {};
    }
    const std::string in_mm = text.substr(0, text.size() - 1) + "mm";
    const ParsedQuantity parsed = parse_quantity(in_mm, quantity);
    return parsed.error.empty() && fits(parsed.value, range)
               ? fmt::format(R"(did you mean "{}"?)", in_mm)
               : std::string();
}

/// The reason why a text was not read, its "did you mean" on a line of its own.
void fail_unread(TableReader& table, std::string_view key, const Value& value,
                 const std::string& error, const std::string& accepted) {
    std::string reason = error.substr(0, error.find("; expected "));
    std::string hint;
    if (const std::size_t at = reason.find("; "); at != std::string::npos) {
        hint = reason.substr(at + 2);
        reason.resize(at);
    }
    table.fail(value.where, fmt::format("{}: {}", table.call(key), reason), accepted, hint);
}

}  // namespace

double usual(std::string_view text, Quantity quantity) {
    return parse_quantity(text, quantity).value;
}

std::string accepted_quantity(Quantity quantity, const Range& range) {
    return accepted_within(quantity, {.low = range.low, .above_low = range.above_low});
}

std::optional<double> quantity_of(TableReader& table, std::string_view key, const Value& value,
                                  Quantity quantity, const Range& range) {
    const std::string accepted = accepted_quantity(quantity, range);
    if (value.kind != ValueKind::text) {
        const bool bare = value.kind == ValueKind::whole || value.kind == ValueKind::real;
        table.reject(
            key, value, accepted,
            bare ? fmt::format("a number needs its unit, in quotes: {}", accepted_units(quantity))
                 : std::string());
        return std::nullopt;
    }
    const ParsedQuantity parsed = parse_quantity(value.text, quantity);
    if (!parsed.error.empty()) {
        fail_unread(table, key, value, parsed.error, accepted);
        return std::nullopt;
    }
    if (!fits(parsed.value, range)) {
        const bool too_large = range.high && parsed.value > *range.high;
        const bool too_small =
            range.least && parsed.value < *range.least && parsed.value > range.low.value_or(0);
        const Range sensible{.low = range.least, .high = range.high};
        table.fail(value.where, fmt::format("{} is {}", table.call(key), value.text),
                   too_large   ? accepted_within(quantity, range)
                   : too_small ? accepted_within(quantity, sensible)
                               : accepted,
                   unit_slip_hint(value.text, quantity, range));
        return std::nullopt;
    }
    return parsed.value;
}

std::optional<Alternative> alternative_of(TableReader& table, std::string_view key,
                                          const Value& value,
                                          const std::vector<Quantity>& quantities,
                                          const std::string& accepted) {
    if (value.kind != ValueKind::text) {
        table.reject(key, value, accepted);
        return std::nullopt;
    }
    const ParsedAlternative parsed = parse_quantity(value.text, quantities);
    if (!parsed.error.empty()) {
        fail_unread(table, key, value, parsed.error, accepted);
        return std::nullopt;
    }
    if (!fits(parsed.value, kPositive)) {
        table.fail(value.where, fmt::format("{} is {}", table.call(key), value.text),
                   accepted + ", greater than 0");
        return std::nullopt;
    }
    return Alternative{parsed.quantity, parsed.value};
}

std::optional<double> quantity(TableReader& table, std::string_view key, Quantity quantity,
                               const Range& range) {
    const Value* const value = table.find(key);
    return value == nullptr ? std::nullopt : quantity_of(table, key, *value, quantity, range);
}

std::optional<double> required_quantity(TableReader& table, std::string_view key, Quantity quantity,
                                        const Range& range) {
    const Value* const value = table.require(key, accepted_quantity(quantity, range));
    return value == nullptr ? std::nullopt : quantity_of(table, key, *value, quantity, range);
}

std::optional<double> number_of(TableReader& table, std::string_view key, const Value& value,
                                const Range& range) {
    const bool bare = value.kind == ValueKind::whole || value.kind == ValueKind::real;
    if (!bare || !fits(value.number, range)) {
        table.reject(key, value,
                     fmt::format("a number{}, without unit and quotes",
                                 range_in_words(Quantity::number, range)));
        return std::nullopt;
    }
    return value.number;
}

std::optional<double> number(TableReader& table, std::string_view key, const Range& range) {
    const Value* const value = table.find(key);
    return value == nullptr ? std::nullopt : number_of(table, key, *value, range);
}

std::optional<int> whole_number(TableReader& table, std::string_view key, int low, int high) {
    const Value* const value = table.find(key);
    if (value == nullptr) {
        return std::nullopt;
    }
    if (value->kind != ValueKind::whole || value->number < low || value->number > high) {
        table.reject(key, *value,
                     fmt::format("a whole number from {} to {}, without quotes", low, high));
        return std::nullopt;
    }
    return static_cast<int>(value->number);
}

std::optional<double> fraction(TableReader& table, std::string_view key, const Range& range) {
    const Value* const value = table.find(key);
    if (value == nullptr) {
        return std::nullopt;
    }
    return value->kind == ValueKind::text
               ? quantity_of(table, key, *value, Quantity::percent, range)
               : number_of(table, key, *value, range);
}

std::optional<std::vector<double>> quantities_of(TableReader& table, std::string_view key,
                                                 const Value& value, Quantity quantity,
                                                 const Range& range, std::size_t least,
                                                 std::size_t most) {
    if (value.kind != ValueKind::array || value.items.size() < least || value.items.size() > most) {
        const std::string count =
            least == most ? fmt::format("{}", least) : fmt::format("{} to {}", least, most);
        table.reject(key, value,
                     fmt::format("a list of {}, each {}", count, accepted_example(quantity)));
        return std::nullopt;
    }
    std::vector<double> numbers;
    for (const Value& item : value.items) {
        if (const std::optional<double> read = quantity_of(table, key, item, quantity, range)) {
            numbers.push_back(*read);
        }
    }
    return numbers.size() == value.items.size() ? std::optional(numbers) : std::nullopt;
}

std::optional<std::vector<double>> quantities(TableReader& table, std::string_view key,
                                              Quantity quantity, const Range& range,
                                              std::size_t least, std::size_t most) {
    const Value* const value = table.find(key);
    return value == nullptr ? std::nullopt
                            : quantities_of(table, key, *value, quantity, range, least, most);
}

std::optional<std::array<double, 2>> one_or_two(TableReader& table, std::string_view key,
                                                Quantity quantity, const Range& range) {
    const Value* const value = table.find(key);
    if (value == nullptr) {
        return std::nullopt;
    }
    if (value->kind != ValueKind::array) {
        const std::optional<double> both = quantity_of(table, key, *value, quantity, range);
        return both ? std::optional(std::array{*both, *both}) : std::nullopt;
    }
    const auto pair = quantities_of(table, key, *value, quantity, range, 2, 2);
    return pair ? std::optional(std::array{(*pair)[0], (*pair)[1]}) : std::nullopt;
}

std::optional<Eigen::Vector3d> vector_of(TableReader& table, std::string_view key,
                                         const Value& value, Quantity quantity,
                                         const Range& range) {
    const auto numbers = quantities_of(table, key, value, quantity, range, 3, 3);
    return numbers ? std::optional(Eigen::Vector3d((*numbers)[0], (*numbers)[1], (*numbers)[2]))
                   : std::nullopt;
}

std::optional<Eigen::Vector3d> vector(TableReader& table, std::string_view key, Quantity quantity,
                                      const Range& range) {
    const Value* const value = table.find(key);
    return value == nullptr ? std::nullopt : vector_of(table, key, *value, quantity, range);
}

std::optional<Eigen::Vector3d> direction(TableReader& table, std::string_view key) {
    const Value* const value = table.find(key);
    if (value == nullptr) {
        return std::nullopt;
    }
    const std::string accepted =
        R"("x", "-x", "y", "-y", "z", "-z" or three bare numbers that are not all 0)";
    if (value->kind == ValueKind::text) {
        std::string_view text = value->text;
        const double sign = text.starts_with('-') ? -1 : 1;
        if (text.starts_with('-') || text.starts_with('+')) {
            text.remove_prefix(1);
        }
        if (text.size() == 1 && text[0] >= 'x' && text[0] <= 'z') {
            return sign * Eigen::Vector3d::Unit(text[0] - 'x');
        }
    } else if (value->kind == ValueKind::array && value->items.size() == 3) {
        Eigen::Vector3d numbers = Eigen::Vector3d::Zero();
        bool bare = true;
        for (int i = 0; i < 3; ++i) {
            const Value& item = value->items[static_cast<std::size_t>(i)];
            bare = bare && (item.kind == ValueKind::whole || item.kind == ValueKind::real) &&
                   std::abs(item.number) <= 1e9;
            numbers[i] = item.number;
        }
        if (bare && numbers.norm() > 1e-9) {
            return numbers;
        }
    }
    table.reject(key, *value, accepted);
    return std::nullopt;
}

std::optional<std::array<double, 2>> window(TableReader& table, std::string_view key,
                                            Quantity quantity, const Range& range) {
    const auto pair = quantities(table, key, quantity, range, 2, 2);
    if (!pair) {
        return std::nullopt;
    }
    if ((*pair)[0] >= (*pair)[1]) {
        table.fail(table.place(key), fmt::format("{} does not rise", table.call(key)),
                   "the lower end first, then the upper end");
        return std::nullopt;
    }
    return std::array{(*pair)[0], (*pair)[1]};
}

}  // namespace standfast
