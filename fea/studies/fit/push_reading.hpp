#pragma once

#include <optional>
#include <string>
#include <vector>

#include "fea/job/measured.hpp"

namespace standfast {

/// What a push test says, with its standard deviation.
struct PushReading {
    double moved = 0;      ///< m, elastic: loaded less what stayed after letting go
    double deviation = 0;  ///< m
    bool counts = true;    ///< false: the dial did not move, or went the other way
    std::vector<std::string> warnings;
};

/// Means of the repeats. The deviation takes together: 5 % of the force and the place (or good_to),
/// another 10 % against the floor, where the machine rocks on its feet too; half a
/// division for reading the dial and half a one for its play; the scatter of the repeats; half of
/// what did not come back. Warns of less than five divisions, and of a return that misses zero by
/// more than a tenth of the reading and a division. A dial that moved less than a division, or
/// against the push where it stands in its line, tells nothing of joints: it counts for nothing and
/// is warned of. All common practice, no source.
/// @throws std::domain_error without a reading
PushReading push_reading(const PushTest& push, std::optional<double> good_to);

}  // namespace standfast
