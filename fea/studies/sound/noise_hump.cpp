#include "fea/studies/sound/noise_hump.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace standfast {
namespace {

constexpr std::size_t kBesideLine = 6;  // entries
constexpr double kLowestHump = 120, kHumpStands = 4;

/// The spectrum without its lines.
std::vector<double> noise_power(const PowerSpectrum& spectrum,
                                const std::vector<HeardLine>& lines) {
    std::vector<double> power = spectrum.power;
    for (const HeardLine& heard : lines) {
        const auto at = static_cast<std::size_t>(std::lround(heard.line.frequency / spectrum.step));
        const std::size_t last = std::min(power.size(), at + kBesideLine + 1);
        for (std::size_t i = at > kBesideLine ? at - kBesideLine : 0; i < last; ++i) power[i] = 0;
    }
    return power;
}

/// Mean squares of what is no line, in sixths of an octave from kLowestHump up.
std::vector<double> noise_bands(const PowerSpectrum& spectrum,
                                const std::vector<HeardLine>& lines) {
    std::vector<double> bands;
    const double ratio = std::pow(2.0, 1.0 / 6);
    const std::vector<double> power = noise_power(spectrum, lines);
    for (double from = kLowestHump; from < spectrum.frequency(power.size()); from *= ratio) {
        const auto first = static_cast<std::size_t>(from / spectrum.step);
        const auto last = static_cast<std::size_t>(from * ratio / spectrum.step);
        double sum = 0;
        for (std::size_t i = first; i < std::min(last, power.size()); ++i) sum += power[i];
        bands.push_back(sum / kNoiseWidth);
    }
    return bands;
}

}  // namespace

double strongest_hump(const PowerSpectrum& spectrum, const std::vector<HeardLine>& lines) {
    const std::vector<double> bands = noise_bands(spectrum, lines);
    double strongest = 0;
    for (std::size_t i = 2; i + 2 < bands.size(); ++i) {
        const double sum = bands[i - 1] + bands[i] + bands[i + 1];
        const bool stands = bands[i] > kHumpStands * std::max(bands[i - 2], bands[i + 2]);
        if (stands) strongest = std::max(strongest, sum);
    }
    return strongest;
}

}  // namespace standfast
