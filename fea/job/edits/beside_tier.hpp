#pragma once

#include <Eigen/Core>
#include <cstddef>

#include "fea/job/job.hpp"

namespace standfast {

/// The one rule for what is beside a tier when the tier changes: guests with a place of their own
/// on it, its side masses, supports that touch it, and the places of passes that cut it with its
/// height in their state.
///
/// Along the tier's axis each keeps its distance from the tier's top: jaws, clamps and parts hang
/// on the end that the tool reaches (common practice, no source). Across it, what stood on the
/// surface or beyond keeps its distance from the surface, on the same line from the axis; what
/// stood within the section stays where it is.
/// @param before, after  the tier as it was and as it is
/// @param at             m, from the tier's foot, its axes
/// @param drop           m, by which the top of `after` lies below what counts as the top: in a
///                       pile of risers, the height of those above it
Eigen::Vector3d place_beside(const Tier& before, const Tier& after, const Eigen::Vector3d& at,
                             double drop = 0);

/// Everything that was beside a tier, moved to what stands in its place: the tier itself, or a pile
/// of `count` tiers from there up, each of them taking what comes to stand at its height. Its side
/// masses are those of `before`; guests, supports and passes must refer to one of the pile already.
/// @throws std::domain_error naming what would come below the foot
void move_beside(Job& job, std::size_t tier, std::size_t count, const Tier& before);

/// Least height, m, of a tier at which nothing beside it comes below its foot.
double least_height(const Job& job, std::size_t tier);

}  // namespace standfast
