#include "cli/report/common/number.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "materials/unit_table.hpp"

namespace standfast {
namespace {

constexpr double kMillimetre = 1e-3;
constexpr double kInch = 0.0254;
constexpr double kPoundForce = 4.4482216152605;
constexpr double kPound = 0.45359237;
constexpr double kFoot = 0.3048;

bool metric(UnitSystem units) { return units == UnitSystem::metric; }

double to_step(double value, double step) { return std::round(value / step) * step; }

/// Step of a depth and the decimals that show it, in the system's unit.
struct Rounding {
    double step = 0.5;
    int decimals = 1;
};

Rounding depth_rounding(double metres, UnitSystem units) {
    const double millimetres = std::abs(metres) / kMillimetre;
    if (metric(units)) {
        return millimetres < 2 ? Rounding{0.1, 1} : Rounding{0.5, 1};
    }
    return millimetres < 2 ? Rounding{0.005, 3} : Rounding{0.02, 2};
}

std::string in_rounding(double metres, UnitSystem units, const Rounding& rounding) {
    const double value = metres / (metric(units) ? kMillimetre : kInch);
    const char* const unit = metric(units) ? "mm" : "in";
    if (std::abs(value) < rounding.step / 2) {
        return fmt::format("under {} {}", trimmed(rounding.step, rounding.decimals), unit);
    }
    return trimmed(to_step(value, rounding.step), rounding.decimals) + " " + unit;
}

bool under_a_step(double metres, UnitSystem units) {
    return std::abs(metres) < (metric(units) ? 0.0005 * kMillimetre : 0.00005 * kInch);
}

std::string least_step(UnitSystem units) { return metric(units) ? "0.001 mm" : "0.0001 in"; }

}  // namespace

std::string trimmed(double value, int decimals) {
    std::string text = fmt::format("{:.{}f}", value, decimals);
    if (text.find('.') != std::string::npos) {
        text.erase(text.find_last_not_of('0') + 1);
        if (text.back() == '.') {
            text.pop_back();
        }
    }
    return text == "-0" ? "0" : text;
}

std::string length_text(double metres, UnitSystem units) {
    return metric(units) ? trimmed(metres / kMillimetre, 3) + " mm"
                         : trimmed(metres / kInch, 4) + " in";
}

std::string depth_text(double metres, UnitSystem units) {
    return in_rounding(metres, units, depth_rounding(metres, units));
}

std::string depth_to_set(double metres, UnitSystem units) {
    const double unit = metric(units) ? kMillimetre : kInch;
    const int decimals = metric(units) ? (metres < kMillimetre ? 2 : 1) : 3;
    const double steps = std::pow(10.0, decimals);
    // A figure that is round already stays, whatever its last bit.
    const double down = std::floor(metres / unit * steps + 1e-6) / steps;
    return down > 0 ? trimmed(down, decimals) + (metric(units) ? " mm" : " in")
                    : length_text(metres, units);
}

std::string depth_text_beside(double metres, double programmed, UnitSystem units) {
    const double unit = metric(units) ? kMillimetre : kInch;
    const double gap = std::abs(metres - programmed);
    Rounding rounding = depth_rounding(metres, units);
    for (int finer = 0; finer < 3; ++finer) {
        const double shown = to_step(metres / unit, rounding.step) * unit;
        if (std::abs(shown - metres) <= gap / 2) {
            break;
        }
        const int decimals = std::min(rounding.decimals + (finer == 0 ? 0 : 1), 4);
        rounding = {std::pow(10.0, -decimals), decimals};
    }
    return in_rounding(metres, units, rounding);
}

std::string error_text(double metres, UnitSystem units) {
    if (under_a_step(metres, units)) {
        return "under " + least_step(units);
    }
    return metric(units) ? fmt::format("{:.3f} mm", std::abs(metres) / kMillimetre)
                         : fmt::format("{:.4f} in", std::abs(metres) / kInch);
}

std::string wall_text(double error, UnitSystem units) {
    if (under_a_step(error, units)) {
        return "on size within " + least_step(units);
    }
    return (error > 0 ? "cut too deep " : "stock left ") + error_text(error, units);
}

std::string speed_text(SpindleSpeed speed) { return speed_number(speed, Toward::nearest) + " rpm"; }

std::string speed_number(SpindleSpeed speed, Toward toward) {
    const double step = speed.rpm() < 100 ? 1 : 10;
    // 9000 rpm is kept in rad/s and comes back a hair off.
    const double count = speed.rpm() / step;
    const double nearest = std::round(count);
    const bool whole = std::abs(count - nearest) < 1e-6 * std::max(1.0, nearest);
    double rounded = nearest;
    if (!whole && toward == Toward::down) {
        rounded = std::floor(count);
    } else if (!whole && toward == Toward::up) {
        rounded = std::ceil(count);
    }
    return fmt::format("{:.0f}", rounded * step);
}

std::string feed_number(double metres_per_second, UnitSystem units) {
    return three_digits(metres_per_second * 60 / (metric(units) ? kMillimetre : kInch));
}

std::string feed_text(double metres_per_second, UnitSystem units) {
    return feed_number(metres_per_second, units) + (metric(units) ? " mm/min" : " ipm");
}

std::string force_text(double newtons, UnitSystem units) {
    return metric(units) ? three_digits(newtons) + " N"
                         : three_digits(newtons / kPoundForce) + " lbf";
}

std::string mass_text(double kilograms, UnitSystem units) {
    return metric(units) ? three_digits(kilograms) + " kg"
                         : three_digits(kilograms / kPound) + " lb";
}

std::string moment_text(double newton_metres, UnitSystem units) {
    return metric(units) ? three_digits(newton_metres) + " N m"
                         : three_digits(newton_metres / (kPoundForce * kFoot)) + " ft lb";
}

std::string power_text(double watts, UnitSystem units) {
    constexpr double kHorsepower = 550 * kPoundForce * kFoot;
    return metric(units) ? three_digits(watts / 1000) + " kW"
                         : three_digits(watts / kHorsepower) + " hp";
}

std::string stress_text(double pascals, UnitSystem units) {
    const double square_inch = kInch * kInch;
    return metric(units) ? three_digits(pascals / 1e6) + " MPa"
                         : three_digits(pascals * square_inch / kPoundForce / 1000) + " ksi";
}

std::string cutting_speed_text(double metres_per_second, UnitSystem units) {
    const double per_minute = metres_per_second * 60;
    return metric(units) ? three_digits(per_minute) + " m/min"
                         : three_digits(per_minute / kFoot) + " sfm";
}

std::string frequency_text(double hertz) { return three_digits(hertz) + " Hz"; }

std::string percent_text(double fraction) {
    return fmt::format("{:.0f} %", std::abs(fraction) < 0.005 ? 0.0 : fraction * 100);
}

std::string three_digits(double value) {
    if (value == 0 || !std::isfinite(value)) {
        return fmt::format("{:.0f}", value == 0 ? 0.0 : value);
    }
    const int exponent = static_cast<int>(std::floor(std::log10(std::abs(value))));
    const double step = std::pow(10.0, exponent - 2);
    return trimmed(to_step(value, step), std::clamp(2 - exponent, 0, 12));
}

std::string quantity_text(double value, Quantity quantity, UnitSystem units) {
    const QuantityUnits& all = units_of(quantity);
    const std::string symbol(metric(units) ? all.metric : all.inch);
    const double unit = symbol.empty() ? 1 : parse_quantity("1 " + symbol, quantity).value;
    const double shown = value / unit;
    // Sizes keep what a drawing would state; the rest is known to three digits at best.
    const bool exact = quantity == Quantity::length || quantity == Quantity::rotational_speed ||
                       quantity == Quantity::angle || quantity == Quantity::number;
    const std::string number =
        exact && std::abs(shown) >= 1e-3 ? trimmed(shown, 4) : three_digits(shown);
    return symbol.empty() ? number : number + " " + symbol;
}

}  // namespace standfast
