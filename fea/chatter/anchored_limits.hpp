#pragma once

#include "fea/chatter/band_search.hpp"
#include "fea/chatter/stability_limits.hpp"

namespace standfast {

/// Limits at many speeds of a search, solved on mode bands at some of them (the anchors) only. The
/// averaged limit follows every lobe, and what it misses changes slowly with the speed: between two
/// anchors it is taken times their ratio to it, interpolated in the logarithm of the speed.
///
/// Anchors are every eighth speed and, between two of those, the middle one; where the middle tells
/// another ratio than its neighbours by more than 2 %, both halves are divided in turn, down to
/// single speeds. One in twelve of the speeds that are filled in is solved all the same: what the
/// answer says of its stand-ins (SolvedOn::ratio) is the difference found there.
/// @throws std::domain_error as periodic_limit
StabilityLimits anchored_limits(const BandSearch& search);

}  // namespace standfast
