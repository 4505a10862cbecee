#include "fea/studies/sound/background.hpp"

#include <algorithm>
#include <cmath>

namespace standfast {
namespace {

constexpr double kSameTone = 0.1;

/// The background's strongest tone within a resolution of a place, mean square; 0 where there is
/// none.
double tone_at(const std::vector<SpectralLine>& tones, double hertz, double resolution) {
    double most = 0;
    for (const SpectralLine& tone : tones) {
        if (std::abs(tone.frequency - hertz) <= resolution) most = std::max(most, tone.power);
    }
    return most;
}

}  // namespace

std::vector<SpectralLine> without_background(const std::vector<SpectralLine>& lines,
                                             const PowerSpectrum& background) {
    LineSearch search;
    search.weakest = 0;
    const std::vector<SpectralLine> tones = spectral_lines(background, search);
    std::vector<SpectralLine> kept;
    for (SpectralLine line : lines) {
        const double tone = tone_at(tones, line.frequency, background.resolution);
        if (tone > kSameTone * line.power) continue;
        line.power -= tone;
        kept.push_back(line);
    }
    return kept;
}

}  // namespace standfast
