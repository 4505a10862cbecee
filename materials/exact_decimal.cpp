#include "materials/exact_decimal.hpp"

#include <cmath>
#include <cstdlib>

namespace standfast {
namespace {

// An unevaluated sum of two doubles, about 32 decimal digits. Multiplying one double by 0.001
// skips some doubles altogether, so a single multiplication could not read back every value.
// Algorithms: T. J. Dekker, Numerische Mathematik 18 (1971) 224-242 (from memory).
struct Twofold {
    double high = 0;
    double low = 0;
};

Twofold quick_sum(double a, double b) {
    const double sum = a + b;
    return {sum, b - (sum - a)};
}

Twofold exact_product(double a, double b) {
    const auto split = [](double x) {
        const double scaled = 134217729.0 * x;  // 2^27 + 1
        const double high = scaled - (scaled - x);
        return Twofold{high, x - high};
    };
    const double product = a * b;
    const Twofold x = split(a), y = split(b);
    const double error =
        ((x.high * y.high - product) + x.high * y.low + x.low * y.high) + x.low * y.low;
    return {product, error};
}

Twofold operator*(Twofold a, Twofold b) {
    const Twofold product = exact_product(a.high, b.high);
    return quick_sum(product.high, product.low + (a.high * b.low + a.low * b.high));
}

Twofold operator/(Twofold a, Twofold b) {
    const double first = a.high / b.high;
    const Twofold back = b * Twofold{first, 0};
    const double rest = ((a.high - back.high) - back.low) + a.low;
    return quick_sum(first, rest / b.high);
}

Twofold twofold(std::uint64_t integer) {
    const std::uint64_t low = integer & 0xFFFFFFFFU;
    const std::uint64_t high = integer - low;
    return quick_sum(static_cast<double>(high), static_cast<double>(low));
}

Twofold power_of_ten(int exponent) {
    Twofold result{1, 0}, base{10, 0};
    for (auto n = static_cast<unsigned>(std::abs(exponent)); n != 0; n >>= 1U) {
        if ((n & 1U) != 0) result = result * base;
        if (n > 1) base = base * base;
    }
    return exponent < 0 ? Twofold{1, 0} / result : result;
}

Twofold twofold(const UnitSize& size) {
    const Twofold pi{3.141592653589793116, 1.2246467991473532e-16};
    const Twofold ratio = twofold(size.numerator) / twofold(size.denominator);
    if (size.pi_power > 0) return ratio * pi;
    return size.pi_power < 0 ? ratio / pi : ratio;
}

Twofold scaled(Twofold x, int exponent) {
    return exponent < 0 ? x / power_of_ten(-exponent) : x * power_of_ten(exponent);
}

// x in [1, 1e19): the nearest integer.
std::uint64_t nearest_integer(Twofold x) {
    const double whole = std::floor(x.high);
    const double rest = (x.high - whole) + x.low;
    const auto base = static_cast<std::uint64_t>(whole);
    const double rounded = std::floor(rest + 0.5);
    return rounded < 0 ? base - static_cast<std::uint64_t>(-rounded)
                       : base + static_cast<std::uint64_t>(rounded);
}

}  // namespace

std::optional<double> in_si(const WrittenNumber& number, const UnitSize& size) {
    if (number.mantissa == 0) return number.negative ? -0.0 : 0.0;
    // Up to 20 digits, and unit sizes from 1e-16 to 1e12: outside this the result is outside too,
    // and inside nothing overflows on the way.
    if (std::abs(number.exponent) > 140) return std::nullopt;
    const Twofold written = twofold(number.mantissa) / twofold(number.divisor);
    const Twofold result = scaled(written, number.exponent) * twofold(size);
    const double value = result.high + result.low;
    if (!(value <= largest_magnitude && value >= smallest_magnitude)) return std::nullopt;
    return number.negative ? -value : value;
}

WrittenNumber shortest_decimal(double value, const UnitSize& size) {
    WrittenNumber number{.negative = std::signbit(value)};
    if (value == 0) return number;
    const Twofold x = Twofold{std::abs(value), 0} / twofold(size);
    const int magnitude = static_cast<int>(std::floor(std::log10(x.high)));
    // 17 digits name a double; a factor between doubles can cost two more.
    for (int digits = 1; digits <= 19; ++digits) {
        number.exponent = magnitude + 1 - digits;
        number.mantissa = nearest_integer(scaled(x, -number.exponent));
        if (in_si(number, size) == value) break;
    }
    return number;
}

std::string decimal_text(const WrittenNumber& number) {
    std::string digits = std::to_string(number.mantissa);
    int exponent = number.exponent;
    while (digits.size() > 1 && digits.back() == '0') {
        digits.pop_back();
        ++exponent;
    }
    const std::string sign = number.negative ? "-" : "";
    const int count = static_cast<int>(digits.size());
    const int point = count + exponent;  // digits before the decimal point
    if (number.mantissa == 0) return sign + "0";
    if (point > 16 || point < -5) {
        if (count > 1) digits.insert(1, 1, '.');
        return sign + digits + (point > 0 ? "e+" : "e") + std::to_string(point - 1);
    }
    if (exponent >= 0) return sign + digits + std::string(static_cast<std::size_t>(exponent), '0');
    if (point <= 0) {
        return sign + "0." + std::string(static_cast<std::size_t>(-point), '0') + digits;
    }
    return sign + digits.substr(0, static_cast<std::size_t>(point)) + "." +
           digits.substr(static_cast<std::size_t>(point));
}

}  // namespace standfast
