#pragma once

#include <vector>

#include "fea/chatter/delay_system.hpp"
#include "fea/chatter/period_map.hpp"
#include "fea/quantities/quantities.hpp"

namespace standfast {

/// A cut of one depth, prepared to be asked at many speeds whether it is stable: the mode bands
/// (mode_bands.hpp) that this depth may shake, each with its part of the period map. Bands whose
/// least averaged limit is beyond three times the depth are left out.
/// A corner radius under an eighth of the depth is left out too, its edge taken as square.
struct PreparedDepth {
    std::vector<PreparedCut> bands;  ///< the one with the least averaged limit first
};

/// @param depth  m, > 0
/// @throws std::domain_error as prepare_cut
PreparedDepth prepare_depth(const DelaySystem& system, double depth);

/// By how much small motion grows in a tooth period: magnitude of the largest Floquet multiplier,
/// to a few percent, to 1e-4 where that decides; 0 where nothing can be shaken. Of several
/// unstable bands the first is taken.
double growth(const PreparedDepth& cut, SpindleSpeed speed);

}  // namespace standfast
