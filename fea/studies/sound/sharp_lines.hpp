#pragma once

#include <vector>

#include "fea/studies/sound/spectral_lines.hpp"

namespace standfast {

/// Lines placed anew by a spectrum of the whole recording, which tells apart what is closer than a
/// short window's resolution: a chatter line next to a multiple of the spindle. A line takes the
/// place of the highest entry within two short resolutions; a second entry there that is at most
/// 20 dB lower and beyond the first one's main lobe becomes a line of its own. Powers are shared
/// out. Lines that a spindle's wander has smeared stay where they are.
/// @param resolution  Hz, of the spectrum in which the lines were found
std::vector<SpectralLine> sharpened(const std::vector<SpectralLine>& lines,
                                    const PowerSpectrum& whole, double resolution);

/// Lines without those that come and go: of four parts of the recording at least three must hold a
/// tenth of a line's mean power. Speech and knocks do not last; a cut does.
std::vector<SpectralLine> lasting(const std::vector<SpectralLine>& lines,
                                  const Recording& recording);

}  // namespace standfast
