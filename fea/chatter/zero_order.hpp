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

/// Samples a receptance: step at most a quarter of the half-power width within two of them about
/// each peak (given by frequency and damping), an eighth of the distance beyond, and at most 5 Hz
/// anywhere, from 0.5 Hz to `up_to`. `at` is called from several threads.
/// @param coarser  factor on every step, for answers that need only rank
/// @throws std::domain_error unless up_to > 0 and coarser > 0
SampledReceptance sample_receptance(const std::function<Eigen::Matrix3cd(AngularFrequency)>& at,
                                    const std::vector<ModalTerm>& peaks, AngularFrequency up_to,
                                    double coarser = 1);

/// A cut whose force answers vibration by a constant matrix:
///     F(t) = F_0(t) + depth / N sum over teeth j of A0 [ d(t) - d(t - pitch_j / speed) ].
/// Milling averaged over a revolution; turning as it is, with one tooth, pitch 2 pi and
/// A0 = -Ks (direction of force) (direction of chip)^T.
struct AveragedCut {
    Eigen::Matrix3d mean_matrix = Eigen::Matrix3d::Zero();  ///< A0, N/m^2
    std::vector<double> pitch;                              ///< rad, one for each tooth
};

/// Smallest depth on the edge of stability of an averaged cut, at each speed.
///
/// With lambda an eigenvalue of A0 G(w), the edge is a lambda mean(1 - exp(-i w tau_j)) = 1. For
/// even pitch that leaves a = 1/(2 Re lambda) where w tau = pi + 2 arg lambda + 2 pi k: each
/// eigenvalue is followed over frequency, and the crossings with a speed are solved between the
/// samples on an interpolated receptance. For uneven pitch the phase condition
/// arg(lambda mean(1 - exp(-i w tau_j))) = 0 is solved with every delay kept.
/// On samples of `sample_receptance` depths are within 1e-3 of themselves, mostly 1e-5 (measured
/// in the tests); only frequencies between the first and last sample are seen.
/// @param speeds       any order; results in the same
/// @param searched_to  m; no limit is reported beyond
/// @throws std::domain_error for a speed or searched depth that is not positive, or samples that
///         do not ascend
StabilityLimits averaged_limits(const AveragedCut& cut, const SampledReceptance& receptance,
                                const std::vector<SpindleSpeed>& speeds, double searched_to);

/// Zero-order (averaged) limits of milling on the full receptance with cross terms, 3 x 3.
/// Only the mean of A is kept, so period doubling is not seen; `kind` is quasi_periodic. Unevenly
/// spaced teeth: each keeps its own delay on its share of the mean. Along a corner radius or a
/// ball A0 changes with depth: the smallest depth that reaches its own limit is looked for on a
/// grid of depths and then solved for.
/// @param system  its modal receptance is not used here
/// @param speeds  any order
/// @throws as averaged_limits
/// Source: Y. Altintas and E. Budak, CIRP Annals 44/1 (1995) 357-362 (memory; checked against
///         tables computed independently); uneven pitch: Y. Altintas, S. Engin and E. Budak,
///         J. Manuf. Sci. Eng. 121 (1999) 173-178 (memory).
StabilityLimits zero_order_limits(const DelaySystem& system, const SampledReceptance& receptance,
                                  const std::vector<SpindleSpeed>& speeds, double searched_to);

}  // namespace standfast
