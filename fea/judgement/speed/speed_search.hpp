#pragma once

#include <optional>
#include <vector>

#include "fea/judgement/cut/headings.hpp"
#include "fea/judgement/speed/at_speed.hpp"

namespace standfast {

/// What is hoped of a speed before anything is tried there.
struct HopedSpeed {
    SpindleSpeed speed;
    double depth = 0;  ///< m
    double most = 0;   ///< m, no deeper cut is asked for

    double worth() const { return speed.radians_per_second * depth; }
};

/// A speed and the deepest cut that holds there by the tries.
struct HeldSpeed {
    SpindleSpeed speed;
    double depth = 0;  ///< m

    /// m rad/s: what it removes, but for radial depth and feed a revolution.
    double worth() const { return speed.radians_per_second * depth; }
};

/// What a search over speeds starts from.
struct SpeedHopes {
    std::vector<HopedSpeed> hopes;  ///< of speeds that may be offered, ascending
    bool between = false;           ///< speeds between those may be asked too
    double least = 0;               ///< m rad/s; speeds that are worth less are not wanted
};

/// Speeds that hold by the tries, each worth more than those behind it: the peaks of what is hoped
/// and the pass's own speed first, or where none of them holds a spread of the others, each asked
/// only whether it is worth more than the best before it; then, from the best one, speeds to either
/// side, in steps that are halved until they are finer than half a least band.
/// @param tries    must not be none
/// @param caution  as in DepthSearch
std::vector<HeldSpeed> search_speeds(const CutProblem& problem, const Headings& headings,
                                     const SpeedHopes& from, const CutTries& tries, double caution);

}  // namespace standfast
