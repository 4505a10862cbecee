#pragma once

#include <optional>

#include "fea/chatter/delay_system.hpp"
#include "fea/chatter/period_map.hpp"
#include "fea/quantities/quantities.hpp"

namespace standfast {

/// A cut of one depth, prepared to be asked at many speeds whether it is stable: in the middle of
/// the cut first, and along the edge where that leaves the growth within 6 % of 1.
/// A corner radius under an eighth of the depth is left out, its edge taken as square.
struct PreparedDepth {
    PreparedCut cut;                    ///< along the edge, modes that matter to 1e-3
    std::optional<PreparedCut> middle;  ///< at one height, modes that matter to 1e-2
    bool out_of_reach = false;          ///< so shallow that nothing can be shaken at any speed
};

/// @param depth  m, > 0
/// @throws std::domain_error as prepare_cut
PreparedDepth prepare_depth(const DelaySystem& system, double depth);

/// By how much small motion grows in a tooth period: magnitude of the largest Floquet multiplier,
/// to a few percent, to 1e-4 where that decides; 0 where nothing can be shaken.
double growth(const PreparedDepth& cut, SpindleSpeed speed);

}  // namespace standfast
