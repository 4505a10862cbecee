#pragma once

#include <vector>

#include "fea/job/job.hpp"

namespace standfast {

/// The job with the tier as high as that. A guest at its side keeps its distance from the top.
/// @throws std::domain_error where a guest would come to stand below the tier's foot
Job with_tier_height(Job job, std::size_t tier, double height);

/// The job with risers from its shelf, from the lowest up, in the place of a tier: the lowest takes
/// its joint (unless it brings one), so do those above it; what stood on the tier stands on the
/// uppermost. Indices of tiers in the rest of the job follow.
/// @param rows  rows of Job::shelf, at least one
/// @throws std::domain_error as above, or if there is no such row or the tier is cut by a pass
Job with_risers(Job job, std::size_t tier, const std::vector<std::size_t>& rows);

/// The job with a hold in place of its own.
Job with_hold(Job job, const TradeHold& hold);

/// Sum of the heights of `count` tiers from `tier` on, m.
double height_of(const Stack& stack, std::size_t tier, std::size_t count);

}  // namespace standfast
