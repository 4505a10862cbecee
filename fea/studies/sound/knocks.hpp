#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "fea/studies/sound/recording.hpp"

namespace standfast {

/// Free ringing after each knock of a recording, all stretches of one length.
struct Knocks {
    double rate = 0;                           ///< samples a second
    std::vector<std::vector<double>> ringing;  ///< channels added, mean removed
    std::vector<std::string> remarks;          ///< clauses
    double seconds() const {
        return ringing.empty() ? 0 : static_cast<double>(ringing.front().size()) / rate;
    }
};

/// Where a recording rises out of its noise at once, a knock begins; knocks are at least 0.15 s
/// apart, and those much weaker than the loudest are left out. A stretch begins when the hammer has
/// left and nothing is clipped any more, and ends before the next knock.
/// @throws std::domain_error for a rate that is not positive, or fewer than 64 samples
Knocks find_knocks(const Recording& recording);

}  // namespace standfast
