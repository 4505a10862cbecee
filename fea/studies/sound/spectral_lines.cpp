#include "fea/studies/sound/spectral_lines.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace standfast {
namespace {

constexpr std::size_t kHalfLobe = 3;   // entries: kLobe resolutions of one entry each
constexpr std::size_t kNearest = 5;    // entries beside a line that belong to it
constexpr std::size_t kFarthest = 15;  // entries beside a line that tell the noise there
constexpr double kLeakage = 1.6e-6;    // of the window beyond its main lobe, power
constexpr double kLeakageReach = 400;  // entries over which leakage still matters
constexpr double kTiny = 1e-300;

bool is_highest(const std::vector<double>& power, std::size_t at) {
    for (std::size_t i = at - kHalfLobe; i <= at + kHalfLobe; ++i) {
        if (power[i] > power[at] || (i < at && power[i] == power[at])) return false;
    }
    return true;
}

/// Where the parabola through the logarithms of three entries is highest, in entries from `at`.
double offset_of_peak(const std::vector<double>& power, std::size_t at) {
    const double left = std::log(power[at - 1] + kTiny);
    const double middle = std::log(power[at] + kTiny);
    const double right = std::log(power[at + 1] + kTiny);
    const double bend = left - 2 * middle + right;
    return bend < 0 ? std::clamp(0.5 * (left - right) / bend, -0.5, 0.5) : 0;
}

/// Power over the median of noise that one entry in a million exceeds, where so many windows are
/// averaged, over that for one window; a fit from above to the tail of the gamma distribution.
double chance_level(int windows) {
    const double n = windows;
    return (1 + 4.2 / std::sqrt(n) + 14.8 / n) / 20;
}

double gathered_power(const std::vector<double>& power, std::size_t at) {
    double sum = 0;
    for (std::size_t i = at - kHalfLobe; i <= at + kHalfLobe; ++i) sum += power[i];
    return sum / kNoiseWidth;
}

/// Leaves out what a stronger line leaks: flat near it, falling with the cube of the distance.
void remove_leakage(std::vector<SpectralLine>& lines, double step) {
    const std::vector<SpectralLine> all = lines;
    std::erase_if(lines, [&](const SpectralLine& line) {
        return std::any_of(all.begin(), all.end(), [&](const SpectralLine& strong) {
            const double away = std::abs(strong.frequency - line.frequency) / step;
            if (away <= 0 || away > kLeakageReach) return false;
            const double fall = std::pow(std::max(1.0, away / kLobe), 6);
            return line.power < 4 * kLeakage * strong.power / fall;
        });
    });
}

}  // namespace

double power_beside(const PowerSpectrum& spectrum, std::size_t entry) {
    std::vector<double> beside;
    for (std::size_t away = kNearest; away <= kFarthest; ++away) {
        if (entry >= away) beside.push_back(spectrum.power[entry - away]);
        if (entry + away < spectrum.power.size()) beside.push_back(spectrum.power[entry + away]);
    }
    if (beside.empty()) return 0;
    const auto middle = beside.begin() + static_cast<std::ptrdiff_t>(beside.size() / 2);
    std::nth_element(beside.begin(), middle, beside.end());
    return *middle;
}

std::vector<SpectralLine> spectral_lines(const PowerSpectrum& spectrum, const LineSearch& search) {
    const std::vector<double>& power = spectrum.power;
    const double least = search.least_prominence * chance_level(spectrum.windows);
    std::vector<SpectralLine> lines;
    double strongest = 0;
    for (std::size_t i = kHalfLobe; i + kHalfLobe < power.size(); ++i) {
        const double frequency = spectrum.frequency(i);
        if (frequency < search.from_hertz) continue;
        if (frequency > search.to_hertz) break;
        if (power[i] <= 0 || !is_highest(power, i)) continue;
        const double noise = power_beside(spectrum, i);
        if (power[i] < least * noise) continue;
        lines.push_back({(static_cast<double>(i) + offset_of_peak(power, i)) * spectrum.step,
                         gathered_power(power, i), power[i] / std::max(noise, kTiny)});
        strongest = std::max(strongest, lines.back().power);
    }
    std::erase_if(
        lines, [&](const SpectralLine& line) { return line.power < search.weakest * strongest; });
    remove_leakage(lines, spectrum.step);
    return lines;
}

}  // namespace standfast
