#pragma once

#include <Eigen/Core>
#include <functional>
#include <vector>

#include "fea/chatter/delay_system.hpp"
#include "fea/chatter/stability_limits.hpp"

namespace standfast {

/// Relative receptance on a grid of frequencies, tool axes, m/N.
struct SampledReceptance {
    std::vector<AngularFrequency> frequency;  ///< ascending, from above 0
    std::vector<Eigen::Matrix3cd> value;
};

/// Samples a receptance: step at most a quarter of the half-power width near each peak (given by
/// frequency and damping) and at most 5 Hz elsewhere, from 0+ to at least `up_to`.
/// Frequencies are solved on several threads.
SampledReceptance sample_receptance(const std::function<Eigen::Matrix3cd(AngularFrequency)>& at,
                                    const std::vector<ModalTerm>& peaks, AngularFrequency up_to);

/// Zero-order (averaged) limits on the full receptance with cross terms: the eigenvalues Lambda of
/// -A0 G(w) at each frequency give depth and phase; the lobes are intersected with each speed and
/// the smallest depth wins.
/// Only the mean of A is kept, so period doubling is not seen; `kind` is quasi_periodic.
/// @param system  its modal receptance is not used here
/// @param speeds  any order
/// Source: Y. Altintas and E. Budak, CIRP Annals 44/1 (1995) 357-362 (memory; checked against
///         tables computed independently).
StabilityLimits zero_order_limits(const DelaySystem& system, const SampledReceptance& receptance,
                                  const std::vector<SpindleSpeed>& speeds, double searched_to);

}  // namespace standfast
