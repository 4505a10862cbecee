#pragma once

#include <Eigen/Core>
#include <functional>
#include <vector>

#include "fea/chatter/equation/delay_system.hpp"
#include "fea/chatter/limits/stability_limits.hpp"

namespace standfast {

/// Relative receptance on a grid of frequencies, tool axes, m/N.
struct SampledReceptance {
    std::vector<AngularFrequency> frequency;  ///< ascending, from above 0
    std::vector<Eigen::MatrixXcd> value;      ///< 3 x 3, or between the coordinates of an edge
};

/// Frequencies to sample at: step at most a quarter of the half-power width within two of them
/// about each peak (given by frequency and damping), an eighth of the distance beyond, and at most
/// 5 Hz anywhere, from 0.5 Hz to `up_to`.
/// @param coarser  factor on every step, for answers that need only rank
/// @throws std::domain_error unless up_to > 0 and coarser > 0
std::vector<AngularFrequency> frequency_grid(const std::vector<ModalTerm>& peaks,
                                             AngularFrequency up_to, double coarser = 1);

/// Samples a receptance on its frequency_grid. `at` is called from several threads.
/// @throws as frequency_grid
SampledReceptance sample_receptance(const std::function<Eigen::Matrix3cd(AngularFrequency)>& at,
                                    const std::vector<ModalTerm>& peaks, AngularFrequency up_to,
                                    double coarser = 1);

/// A cut whose force answers vibration by a constant matrix:
///     F(t) = F_0(t) + depth / N sum over teeth j of A0 [ d(t) - d(t - pitch_j / speed) ].
/// Milling averaged over a revolution; turning as it is, with one tooth, pitch 2 pi and
/// A0 = -Ks (direction of force) (direction of chip)^T.
struct AveragedCut {
    Eigen::MatrixXd mean_matrix = Eigen::Matrix3d::Zero();  ///< A0, N/m^2; as large as G
    std::vector<double> pitch;                              ///< rad, one for each tooth
};

/// The averaged cut of one point, with the directional matrix of this depth (m).
AveragedCut averaged_cut(const DelaySystem& system, double depth);

/// The receptance in the middle of a cut of this depth, sampled.
SampledReceptance sampled_in_the_middle(const DelaySystem& system,
                                        const std::vector<AngularFrequency>& frequencies,
                                        double depth);

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

/// The same by the system's own receptance, along the edge where it has lines: A0 and G then change
/// with depth, and the smallest depth that reaches its own limit is solved for in the same way.
StabilityLimits zero_order_limits(const DelaySystem& system,
                                  const std::vector<AngularFrequency>& frequencies,
                                  const std::vector<SpindleSpeed>& speeds, double searched_to);

}  // namespace standfast
