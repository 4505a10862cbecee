#pragma once

#include <vector>

#include "fea/studies/sound/line_sources.hpp"

namespace standfast {

/// Half-tooth lines beside the tooth-passing lines next to them.
struct HalfTeeth {
    double level = -100;  ///< dB, median over the places
    double low = -100;    ///< dB, quartile: a quarter of the places are lower
    int places = 0;       ///< that were compared
};

/// Compares, wherever any of the three is heard, the place midway between two tooth-passing lines
/// with the mean (in dB) of these two; below the lowest, with that one alone. About 0 where every
/// other tooth cuts alike; far below where a mode makes one such line of runout loud.
HalfTeeth compare_half_teeth(const PowerSpectrum& spectrum, const std::vector<HeardLine>& lines,
                             double tooth_passing_hertz);

}  // namespace standfast
