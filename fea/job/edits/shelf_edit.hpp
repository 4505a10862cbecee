#pragma once

#include <cstddef>
#include <vector>

#include "fea/job/job.hpp"

namespace standfast {

/// Risers from a shelf, from the lowest up, in the place of a tier: the lowest takes its joint
/// (unless it brings one), so do those above it; what stood on the tier stands on the uppermost,
/// and what was beside it is moved by the rule of beside_tier.hpp. Indices of tiers in the rest of
/// the job follow; a riser that has another tier's name gets a number.
/// @throws std::domain_error where there is no riser, or a pass cuts the tier
void put_risers(Job& job, std::size_t tier, const std::vector<ShelfRiser>& risers);

}  // namespace standfast
