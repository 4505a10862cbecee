#pragma once

#include <numbers>

namespace standfast {

/// Rotation of a spindle. A type of its own, since rpm, rev/s and rad/s are easily mixed up.
struct SpindleSpeed {
    double radians_per_second = 0;

    static constexpr SpindleSpeed from_rpm(double rpm) { return {rpm * 2 * std::numbers::pi / 60}; }
    constexpr double rpm() const { return radians_per_second * 60 / (2 * std::numbers::pi); }
    constexpr double revolutions_per_second() const {
        return radians_per_second / (2 * std::numbers::pi);
    }
    constexpr auto operator<=>(const SpindleSpeed&) const = default;
};

/// Angular frequency of a vibration.
struct AngularFrequency {
    double radians_per_second = 0;

    static constexpr AngularFrequency from_hertz(double hertz) {
        return {hertz * 2 * std::numbers::pi};
    }
    constexpr double hertz() const { return radians_per_second / (2 * std::numbers::pi); }
    constexpr auto operator<=>(const AngularFrequency&) const = default;
};

/// Tooth-passing frequency N n of evenly or unevenly spaced teeth (once per tooth on average), Hz.
constexpr double tooth_passing_hertz(SpindleSpeed speed, int teeth) {
    return speed.revolutions_per_second() * teeth;
}

}  // namespace standfast
