#include "materials/read_number.hpp"

#include <algorithm>
#include <optional>

namespace standfast {
namespace {

constexpr std::uint64_t most = 1'000'000'000'000'000'000;  // 1e18: one more digit still fits

bool is_digit(char c) { return c >= '0' && c <= '9'; }
bool is_space(char c) { return c == ' ' || c == '\t'; }

bool starts_with_digit(std::string_view text) { return !text.empty() && is_digit(text.front()); }

std::string_view skip_spaces(std::string_view text) {
    while (!text.empty() && is_space(text.front())) text.remove_prefix(1);
    return text;
}

// Digits beyond the nineteenth cannot change a double; they only count for the magnitude.
void append_digit(WrittenNumber& number, char digit, bool after_point) {
    const bool kept = number.mantissa < most;
    if (kept) number.mantissa = number.mantissa * 10 + static_cast<std::uint64_t>(digit - '0');
    if (kept && after_point && number.exponent > -10000) --number.exponent;
    if (!kept && !after_point && number.exponent < 10000) ++number.exponent;
}

std::size_t read_digits(WrittenNumber& number, std::string_view& text, bool after_point) {
    std::size_t count = 0;
    for (; starts_with_digit(text); text.remove_prefix(1), ++count) {
        append_digit(number, text.front(), after_point);
    }
    return count;
}

// "e+15" only where digits follow: in "5 each" the e is no exponent.
void read_exponent(WrittenNumber& number, std::string_view& text) {
    if (text.empty() || (text.front() != 'e' && text.front() != 'E')) return;
    std::string_view tail = text.substr(1);
    const bool negative = tail.starts_with('-');
    if (negative || tail.starts_with('+')) tail.remove_prefix(1);
    if (!starts_with_digit(tail)) return;
    int exponent = 0;
    for (; starts_with_digit(tail); tail.remove_prefix(1)) {
        exponent = std::min(exponent * 10 + (tail.front() - '0'), 10000);
    }
    number.exponent += negative ? -exponent : exponent;
    text = tail;
}

struct Integer {
    std::uint64_t value = 0;
    std::string_view rest;
};

std::optional<Integer> read_integer(std::string_view text) {
    constexpr std::size_t digits_allowed = 6;  // so that whole x bottom + top cannot overflow
    Integer integer{.rest = text};
    std::size_t count = 0;
    for (; starts_with_digit(integer.rest); integer.rest.remove_prefix(1), ++count) {
        if (count == digits_allowed) return std::nullopt;
        integer.value = integer.value * 10 + static_cast<std::uint64_t>(integer.rest.front() - '0');
    }
    if (count == 0) return std::nullopt;
    return integer;
}

struct Fraction {
    std::uint64_t top = 0, bottom = 0;
    std::string_view rest;
};

std::optional<Fraction> read_fraction(std::string_view text) {
    const auto top = read_integer(text);
    if (!top || !top->rest.starts_with('/')) return std::nullopt;
    const auto bottom = read_integer(top->rest.substr(1));
    if (!bottom) return std::nullopt;
    return Fraction{top->value, bottom->value, bottom->rest};
}

// "3/8", "1-1/2", "1 1/2"
std::optional<Fraction> read_mixed_fraction(std::string_view text) {
    if (auto fraction = read_fraction(text)) return fraction;
    const auto whole = read_integer(text);
    if (!whole || whole->rest.empty()) return std::nullopt;
    const bool joined = whole->rest.front() == '-';
    if (!joined && !is_space(whole->rest.front())) return std::nullopt;
    auto fraction = read_fraction(joined ? whole->rest.substr(1) : skip_spaces(whole->rest));
    if (fraction) fraction->top += whole->value * fraction->bottom;
    return fraction;
}

std::string comma_error(std::string_view text, std::size_t comma) {
    const auto quoted = [&](std::string_view separator) {
        std::string fixed(text);
        fixed.replace(comma, 1, separator);
        return "\"" + fixed + "\"";
    };
    const std::string_view after = text.substr(comma + 1);
    const auto digits = std::find_if_not(after.begin(), after.end(), is_digit) - after.begin();
    const bool thousands = digits == 3 && comma > 0 && text.front() != '0';
    if (thousands) {
        return "has a comma; write " + quoted("") + ", or " + quoted(".") +
               " if it is the decimal point";
    }
    return "has a comma; the decimal point is a point: " + quoted(".");
}

bool take_sign(std::string_view& text) {
    static constexpr std::string_view minus_sign = "\xE2\x88\x92";
    if (text.starts_with(minus_sign)) {
        text.remove_prefix(minus_sign.size());
        return true;
    }
    const bool negative = text.starts_with('-');
    if (negative || text.starts_with('+')) text.remove_prefix(1);
    return negative;
}

}  // namespace

ReadNumber read_number(std::string_view text) {
    const std::string_view given = skip_spaces(text);
    ReadNumber result;
    result.rest = given;
    WrittenNumber& number = result.number;
    std::string_view rest = given;
    number.negative = take_sign(rest);
    if (const auto fraction = read_mixed_fraction(rest)) {
        if (fraction->bottom == 0) {
            result.error = "divides by zero";
            return result;
        }
        number.mantissa = fraction->top;
        number.divisor = fraction->bottom;
        result.rest = skip_spaces(fraction->rest);
        return result;
    }
    std::size_t digits = read_digits(number, rest, false);
    if (rest.starts_with('.')) {
        rest.remove_prefix(1);
        digits += read_digits(number, rest, true);
    }
    if (rest.starts_with(',') && (starts_with_digit(rest.substr(1)) || digits > 0)) {
        result.error = comma_error(given, given.size() - rest.size());
        return result;
    }
    if (digits == 0) {
        result.error = "does not start with a number";
        return result;
    }
    read_exponent(number, rest);
    result.rest = skip_spaces(rest);
    return result;
}

}  // namespace standfast
