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
/// fraction of its time, by a BandSearch: put right on the whole system where it matters.
/// Elsewhere stand-ins serve, named in the answer: the limit on the bands, with its difference from
/// that on the whole where both were had; and the ratio, with its difference where a speed that was
/// solved is left out.
/// With 8 modes or fewer, or unequal pitch: periodic_limits.
/// @throws std::domain_error as periodic_limits
StabilityLimits banded_limits(const DelaySystem& system, const std::vector<SpindleSpeed>& speeds,
                              double searched_to, const BandedOptions& options = {});

}  // namespace standfast
