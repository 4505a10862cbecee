#pragma once

#include <Eigen/Core>
#include <complex>

#include "fea/chatter/equation/delay_system.hpp"
#include "fea/chatter/map/period_map.hpp"
#include "fea/quantities/quantities.hpp"

namespace standfast {

/// The Floquet multiplier of largest magnitude: by what small motion grows in one tooth period.
/// Of a conjugate pair the one with Im >= 0.
struct Multiplier {
    std::complex<double> value;
    double radius() const { return std::abs(value); }
};

/// Largest multiplier of the delay equation at one spindle speed and depth, evenly spaced teeth.
/// The number of points grows until value settles to `tolerance` (absolute).
/// @param depth  m, > 0
/// @throws std::domain_error if something is not usable, or if it does not settle
/// Sources: T. Insperger and G. Stepan, Int. J. Numer. Meth. Eng. 61 (2004) 117-141, for the
///          equation (memory); collocation between the kinks of A is our own arrangement.
Multiplier largest_multiplier(const DelaySystem& system, SpindleSpeed speed, double depth,
                              double tolerance = 1e-6);

/// The same of one map, as accurate as the map.
Multiplier largest_multiplier(const PeriodMap& map);

}  // namespace standfast
