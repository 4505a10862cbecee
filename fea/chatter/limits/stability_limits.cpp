#include "fea/chatter/limits/stability_limits.hpp"

#include <algorithm>

#include "fea/quantities/require.hpp"

namespace standfast {

double search_depth(double flute_length, double diameter) {
    require_not_negative(flute_length, "search_depth", "flute length");
    require_positive(diameter, "search_depth", "cutter diameter");
    return std::max({flute_length, 5 * diameter, 0.060});
}

}  // namespace standfast
