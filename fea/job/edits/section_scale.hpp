#pragma once

#include <optional>

#include "fea/job/edits/edit.hpp"

namespace standfast {

/// The section of a tier, its taper included, with outlines scaled by a factor and walls as thick
/// as they were; none for a section known by its figures alone.
std::optional<TierSection> scaled_section(const Tier& tier, double factor);

}  // namespace standfast
