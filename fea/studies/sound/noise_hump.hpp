#pragma once

#include <vector>

#include "fea/studies/sound/line_sources.hpp"

namespace standfast {

/// Strongest hump of noise, mean square: a sixth of an octave (from 120 Hz up, lines taken out) and
/// what is next to it, where it stands 6 dB above what is a third of an octave away. A mode makes
/// one, where chatter is so wild that it has no lines left; coolant is broader. 0 where none
/// stands.
double strongest_hump(const PowerSpectrum& spectrum, const std::vector<HeardLine>& lines);

}  // namespace standfast
