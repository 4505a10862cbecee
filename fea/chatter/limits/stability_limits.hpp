#pragma once

#include <optional>
#include <string>
#include <vector>

#include "fea/quantities/quantities.hpp"

namespace standfast {

enum class ChatterKind { quasi_periodic, period_doubling };
enum class StabilityMethod { zero_order, periodic };

/// Edge of chatter at one spindle speed.
struct SpeedLimit {
    SpindleSpeed speed;
    std::optional<double> limit;  ///< m; none: stable to the searched depth
    std::optional<ChatterKind> kind;
    std::optional<double> chatter_hertz;  ///< strongest line of the critical motion
    /// Stable depths above the limit, m (from, to); listed, never used.
    std::vector<std::pair<double, double>> islands;
};

struct StabilityLimits {
    StabilityMethod method = StabilityMethod::zero_order;
    double searched_to = 0;  ///< m
    std::vector<SpeedLimit> speeds;
    std::string fallback = {};  ///< why zero-order stands in for periodic; empty: it does not
};

/// max(flute, 5 D, 60 mm).
double search_depth(double flute_length, double diameter);

}  // namespace standfast
