#pragma once

#include <functional>
#include <vector>

#include "fea/chatter/delay_system.hpp"
#include "fea/chatter/stability_limits.hpp"
#include "fea/quantities/quantities.hpp"

namespace standfast {

struct BandedOptions {
    /// Speeds that matter: solved on the whole system, with islands. None given: all.
    std::function<bool(SpindleSpeed)> matters;
    double islands_to = 2;
    /// Elsewhere, where the chatter frequency is more than so many times the tooth-passing one, the
    /// lobes are too narrow to be used, and the averaged limit times a ratio stands in.
    double most_lobes = 10;
};

/// Limits of the delay equation of a system with many modes, as of periodic_limits and in a
/// fraction of its time. They are looked for on those mode bands (mode_bands.hpp) whose averaged
/// limit is within twice the least, upward from 0.4 of that. Where it matters they are then put
/// right on the whole system, by Newton steps on its largest multiplier until one misses by less
/// than 1e-3, which is made good; where that does not settle, periodic_limit is taken. Elsewhere
/// stand-ins serve, named in the answer: the limit on the bands, with its difference from that on
/// the whole where both were had; and the ratio, with its difference where a speed that was solved
/// is left out.
/// With 8 modes or fewer, or unequal pitch: periodic_limits.
/// @throws std::domain_error as periodic_limits
StabilityLimits banded_limits(const DelaySystem& system, const std::vector<SpindleSpeed>& speeds,
                              double searched_to, const BandedOptions& options = {});

}  // namespace standfast
