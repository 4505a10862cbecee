#include "fea/studies/sound/half_teeth.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace standfast {
namespace {

constexpr double kStandsOut = 10;

/// What stands at a place of the spectrum.
struct Place {
    double decibels = -300;
    bool stands_out = false;
};

Place place_at(const PowerSpectrum& spectrum, double hertz) {
    const auto nearest = static_cast<std::size_t>(std::lround(hertz / spectrum.step));
    if (nearest < 1 || nearest + 1 >= spectrum.power.size()) return {};
    double most = 1e-300;
    for (std::size_t i = nearest - 1; i <= nearest + 1; ++i) {
        most = std::max(most, spectrum.power[i]);
    }
    return {10 * std::log10(most), most > kStandsOut * power_beside(spectrum, nearest)};
}

/// Half-tooth lines over the mean of the tooth-passing lines next to them, dB (the lowest over the
/// one above it), wherever any of the three is heard.
std::vector<double> half_tooth_levels(const PowerSpectrum& spectrum,
                                      const std::vector<HeardLine>& lines,
                                      double tooth_passing_hertz) {
    double highest = 0;
    for (const HeardLine& heard : lines) {
        if (heard.source == LineSource::tooth_passing) highest = std::max(highest, *heard.order);
    }
    std::vector<double> levels;
    for (double order = 1; order <= highest; ++order) {
        const auto at = [&](double k) { return place_at(spectrum, k * tooth_passing_hertz); };
        const Place half = at(order - 0.5), upper = at(order);
        const Place lower = order > 1 ? at(order - 1) : upper;
        if (half.stands_out || upper.stands_out || lower.stands_out) {
            levels.push_back(half.decibels - 0.5 * (lower.decibels + upper.decibels));
        }
    }
    return levels;
}

}  // namespace

HalfTeeth compare_half_teeth(const PowerSpectrum& spectrum, const std::vector<HeardLine>& lines,
                             double tooth_passing_hertz) {
    std::vector<double> levels = half_tooth_levels(spectrum, lines, tooth_passing_hertz);
    HalfTeeth halves;
    halves.places = static_cast<int>(levels.size());
    if (levels.empty()) return halves;
    std::sort(levels.begin(), levels.end());
    halves.level = levels[levels.size() / 2];
    halves.low = levels[levels.size() / 4];
    return halves;
}

}  // namespace standfast
