#pragma once

#include <vector>

#include "fea/studies/sound/recording.hpp"

namespace standfast {

/// Averaged power spectrum of a recording, channels added.
struct PowerSpectrum {
    double step = 0;            ///< Hz from one entry to the next, the first at 0 Hz
    double resolution = 0;      ///< Hz, 1 / length of one window
    int windows = 0;            ///< that were averaged
    std::vector<double> power;  ///< mean square of a line that stands at the entry; <= 0.5 rate

    double frequency(std::size_t entry) const { return step * static_cast<double>(entry); }
};

/// Half the width of a line's main lobe, in resolutions: the window's first zero.
inline constexpr double kLobe = 3;
/// Width of noise that a line's entry gathers, in resolutions.
inline constexpr double kNoiseWidth = 1.7268;

/// Windows of about `window_seconds` (or the whole recording where that is shorter) that overlap by
/// half, each with its mean removed and tapered by Blackman's window; their power spectra are
/// averaged. A sine of amplitude A gives A^2/2 at its frequency; what leaks beyond the main lobe
/// is 58 dB below.
/// @throws std::domain_error unless the rate and window are positive and there are 64 samples or
/// more Sources: P. D. Welch, IEEE Trans. Audio Electroacoust. 15 (1967) 70-73; F. J. Harris,
///          Proc. IEEE 66 (1978) 51-83, table 1 for the window (both from memory; lobe, leakage and
///          noise width are measured in the tests).
PowerSpectrum averaged_spectrum(const Recording& recording, double window_seconds);

}  // namespace standfast
