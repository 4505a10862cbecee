#pragma once

#include <optional>
#include <vector>

#include "fea/chatter/equation/delay_system.hpp"
#include "fea/chatter/map/period_map.hpp"
#include "fea/quantities/quantities.hpp"

namespace standfast {

/// A cut of one depth, prepared to be asked at many speeds whether it is stable: in the middle of
/// the cut first, and along the edge where that leaves the growth too near 1 to tell.
/// A small corner radius is taken as square (square_corner.hpp).
struct PreparedDepth {
    PreparedCut cut;                    ///< along the edge, modes that matter to 2e-3
    std::optional<PreparedCut> middle;  ///< at one height, modes that matter to 2e-2
    bool out_of_reach = false;          ///< so shallow that nothing can be shaken at any speed
};

/// @param depth  m, > 0
/// @param shelf  as in prepare_cut
/// @throws std::domain_error as prepare_cut
PreparedDepth prepare_depth(const DelaySystem& system, double depth, CourseShelf* shelf = nullptr);

/// ln growth within which the middle of a cut is not trusted to tell whether the edge is stable,
/// where nothing is known of how far the two are apart.
inline constexpr double usual_doubt = 0.06;
/// The same for a search, whose answer is tried again: beyond it one in five hundred growths of
/// three jobs lay on the other side (measured).
inline constexpr double doubt_in_a_search = 0.03;

/// By how much small motion grows in a tooth period: magnitude of the largest Floquet multiplier,
/// to a few percent; where a map may be off by more than it is away from 1 (near_one.hpp), on finer
/// maps until it stays on its side; 0 where nothing can be
/// shaken.
/// @param doubt  see usual_doubt, or as measured by doubt_of_the_middle
double growth(const PreparedDepth& cut, SpindleSpeed speed, double doubt = usual_doubt);

/// How far ln growth in the middle of the cut and along its edge are apart at some of the pairs of
/// cut and speed (16, evenly taken): three times their root mean square, between 0.012 and
/// usual_doubt. The same for the same cuts and speeds.
double doubt_of_the_middle(const std::vector<PreparedDepth>& cuts,
                           const std::vector<SpindleSpeed>& speeds);

}  // namespace standfast
