#pragma once

#include "fea/job/shape.hpp"
#include "fea/job/tier.hpp"
#include "fea/structure/section.hpp"

namespace standfast {

/// Section of a tier: its y axis is the tier's x, its z axis the tier's y.
/// @throws std::domain_error where a size is not physical
Section section_of(const SectionShape& shape, double poissons_ratio);

/// Shape part of the way from one to another, sizes going linearly (a GeneralShape by the square
/// root of its area and the fourth roots of its moments).
/// @param fraction  0 at `lower`, 1 at `upper`
/// @throws std::domain_error where the two are not the same kind of shape
SectionShape shape_between(const SectionShape& lower, const SectionShape& upper, double fraction);

/// Shape of a tier at a height above its foot, m; clipped to the tier.
SectionShape shape_at(const Tier& tier, double height);

}  // namespace standfast
