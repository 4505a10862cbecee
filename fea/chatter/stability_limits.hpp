#pragma once

#include <optional>
#include <string>
#include <vector>

#include "fea/quantities/quantities.hpp"

namespace standfast {

enum class ChatterKind { quasi_periodic, period_doubling };
enum class StabilityMethod { zero_order, periodic };

/// What a periodic limit was solved on: the whole delay equation; the modes near the chatter
/// frequency (mode_bands.hpp); or the averaged limit times the ratio found at other speeds.
enum class SolvedOn { whole, bands, ratio };

/// Edge of chatter at one spindle speed.
struct SpeedLimit {
    SpindleSpeed speed;
    std::optional<double> limit;  ///< m; none: stable to the searched depth
    std::optional<ChatterKind> kind;
    std::optional<double> chatter_hertz;  ///< strongest line of the critical motion
    /// Stable depths above the limit, m (from, to); listed, never used.
    std::vector<std::pair<double, double>> islands;
    SolvedOn solved_on = SolvedOn::whole;
};

/// How well a stand-in for the whole solve did where both were had.
struct StandIn {
    SolvedOn kind = SolvedOn::bands;
    int speeds = 0;                          ///< at which it stood in
    int sample = 0;                          ///< speeds at which it was compared
    double worst = 0, root_mean_square = 0;  ///< relative difference of the limit
};

struct StabilityLimits {
    StabilityMethod method = StabilityMethod::zero_order;
    double searched_to = 0;  ///< m
    std::vector<SpeedLimit> speeds;
    std::vector<StandIn> stand_ins;  ///< none: every limit is that of the whole
    std::string fallback = {};       ///< why zero-order stands in for periodic; empty: it does not
};

/// max(flute, 5 D, 60 mm).
double search_depth(double flute_length, double diameter);

}  // namespace standfast
