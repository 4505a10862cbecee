#pragma once

#include <vector>

namespace standfast {

/// What the wall comes out like in those tries in which the cut is stable.
struct WallTries {
    std::vector<double> error;  ///< m, of largest magnitude along the height; > 0: cut too deep

    /// Share of the tries whose error is this large (m, > 0) or larger, either way.
    double share_beyond(double size) const;

    /// m, of the try that nine in ten do not exceed in magnitude, with its sign; 0 without tries.
    double stays_under() const;

    /// Whether tries that are at least half as far off as stays_under() lie on both sides.
    bool either_way() const;
};

}  // namespace standfast
