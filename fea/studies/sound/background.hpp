#pragma once

#include <vector>

#include "fea/studies/sound/spectral_lines.hpp"

namespace standfast {

/// Lines of a cut without those that the machine, or another one nearby, makes without the cut: a
/// line goes where the background has a tone within one resolution that holds at least a tenth of
/// its power (a neighbour's sound wavers); a fainter tone is taken off the line's power. Both must
/// have been recorded alike: same place, same gain.
/// @param background  averaged over windows of the same length
std::vector<SpectralLine> without_background(const std::vector<SpectralLine>& lines,
                                             const PowerSpectrum& background);

}  // namespace standfast
