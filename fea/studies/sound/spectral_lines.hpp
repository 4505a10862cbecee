#pragma once

#include <vector>

#include "fea/studies/sound/spectrum.hpp"

namespace standfast {

/// A tone in a spectrum.
struct SpectralLine {
    double frequency = 0;   ///< Hz, between the entries
    double power = 0;       ///< mean square of the tone, same scale as the spectrum
    double prominence = 0;  ///< power over the noise beside it
};

struct LineSearch {
    double from_hertz = 20, to_hertz = 12'000;
    double least_prominence = 27;  ///< of one window; of many averaged ones less
    double weakest = 1e-6;         ///< of the strongest line's power: below is leakage
};

/// Tones, by ascending frequency: entries that are the highest within a main lobe, stand out of
/// the median beside the lobe (a hump of noise through a resonance does not), and are no leakage of
/// a stronger one. The frequency is that of the parabola through the logarithms of three entries
/// (within 0.05 resolutions for a pure tone); the power is gathered over the main lobe, so that a
/// tone that wavers a little counts in full.
std::vector<SpectralLine> spectral_lines(const PowerSpectrum& spectrum,
                                         const LineSearch& search = {});

/// Median power beside an entry, from just outside a main lobe to five lobes away.
double power_beside(const PowerSpectrum& spectrum, std::size_t entry);

}  // namespace standfast
