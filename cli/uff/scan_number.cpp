#include "cli/uff/scan_number.hpp"

#include <array>
#include <cctype>
#include <charconv>
#include <cmath>
#include <cstddef>
#include <limits>

namespace standfast {
namespace {

bool is_digit(char letter) { return letter >= '0' && letter <= '9'; }
bool is_sign(char letter) { return letter == '+' || letter == '-'; }

struct Scanner {
    std::string_view text;
    std::size_t at = 0;
    std::array<char, 80> plain{};  // the number as from_chars takes it
    std::size_t length = 0;

    char peek(std::size_t ahead = 0) const {
        return at + ahead < text.size() ? text[at + ahead] : '\0';
    }
    void take(char letter) {
        if (length < plain.size()) {
            plain.at(length++) = letter;
        }
        ++at;
    }
    bool digits() {
        const std::size_t start = at;
        while (is_digit(peek())) {
            take(peek());
        }
        return at > start;
    }
};

void scan_exponent(Scanner& scanner) {
    const char letter = static_cast<char>(std::tolower(static_cast<unsigned char>(scanner.peek())));
    if (letter == 'e' || letter == 'd') {
        const std::size_t sign = is_sign(scanner.peek(1)) ? 1 : 0;
        if (!is_digit(scanner.peek(1 + sign))) {
            return;
        }
        scanner.take('e');
        if (sign == 1 && scanner.peek() == '-') {
            scanner.take('-');
        } else if (sign == 1) {
            ++scanner.at;
        }
        scanner.digits();
        return;
    }
    const bool bare = is_sign(letter) && is_digit(scanner.peek(1)) && is_digit(scanner.peek(2)) &&
                      is_digit(scanner.peek(3)) && scanner.peek(4) != '.';
    if (!bare) {
        return;
    }
    scanner.take('e');
    --scanner.at;
    if (letter == '-') {
        scanner.take('-');
    } else {
        ++scanner.at;
    }
    for (int digit = 0; digit < 3; ++digit) {
        scanner.take(scanner.peek());
    }
}

std::optional<double> scan_word(std::string_view& text, std::size_t at, bool negative) {
    const auto says = [&](std::string_view word) {
        if (text.size() < at + word.size()) {
            return false;
        }
        for (std::size_t i = 0; i < word.size(); ++i) {
            if (std::tolower(static_cast<unsigned char>(text[at + i])) != word[i]) {
                return false;
            }
        }
        return true;
    };
    if (says("nan")) {
        text.remove_prefix(at + 3);
        return std::nan("");
    }
    if (says("inf")) {
        text.remove_prefix(at + 3);
        const double infinite = std::numeric_limits<double>::infinity();
        return negative ? -infinite : infinite;
    }
    return std::nullopt;
}

}  // namespace

std::optional<double> scan_number(std::string_view& text) {
    Scanner scanner{.text = text};
    while (scanner.peek() == ' ' || scanner.peek() == '\t') {
        ++scanner.at;
    }
    const bool negative = scanner.peek() == '-';
    if (negative) {
        scanner.take('-');
    } else if (scanner.peek() == '+') {
        ++scanner.at;
    }
    if (std::isalpha(static_cast<unsigned char>(scanner.peek())) != 0) {
        return scan_word(text, scanner.at, negative);
    }
    bool any = scanner.digits();
    if (scanner.peek() == '.') {
        scanner.take('.');
        any = scanner.digits() || any;
    }
    if (!any) {
        return std::nullopt;
    }
    scan_exponent(scanner);
    double value = 0;
    const auto [end, error] =
        std::from_chars(scanner.plain.data(), scanner.plain.data() + scanner.length, value);
    if (error == std::errc::result_out_of_range) {
        // from_chars leaves the value alone; what is too small is 0, too large is not a number
        // anyone measured.
        const std::string_view plain(scanner.plain.data(), scanner.length);
        value = plain.find("e-") != std::string_view::npos
                    ? 0
                    : std::numeric_limits<double>::infinity();
    } else if (error != std::errc()) {
        return std::nullopt;
    }
    text.remove_prefix(scanner.at);
    return value;
}

}  // namespace standfast
