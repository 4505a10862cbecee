#pragma once

#include <Eigen/Core>
#include <optional>
#include <vector>

#include "fea/chatter/limits/lobe_segments.hpp"
#include "fea/chatter/limits/zero_order.hpp"

namespace standfast {

/// A point on the edge of stability of an averaged cut at one speed.
struct LobeCrossing {
    double w = 0;      ///< rad/s
    double depth = 0;  ///< m
};

/// The crossing of least depth, at most `searched_to`, of the stretches (least depth first) with
/// one speed.
/// @param delays  s, one for each tooth
std::optional<LobeCrossing> least_crossing(const AveragedCut& cut,
                                           const SampledReceptance& receptance,
                                           const std::vector<LobeSegment>& segments,
                                           const std::vector<double>& delays, double searched_to);

/// Mean over the teeth of 1 - exp(-i w tau_j).
std::complex<double> delay_factor(const std::vector<double>& delays, double w);

}  // namespace standfast
