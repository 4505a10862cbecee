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
    std::vector<std::string> warnings;
};

/// Means of the repeats. The deviation takes together: 5 % of the force and the place (or good_to),
/// another 10 % against the floor, where the machine rocks on its feet too; a division of the dial
/// as an even spread; the scatter of the repeats; half of what did not come back.
/// Warns of less than five divisions, and of a return that misses zero by more than a tenth of the
/// reading and a division. All common practice, no source.
/// @throws std::domain_error without a reading
PushReading push_reading(const PushTest& push, std::optional<double> good_to);

}  // namespace standfast
