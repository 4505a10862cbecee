#pragma once

#include <vector>

#include "fea/chatter/delay_system.hpp"
#include "fea/chatter/stability_limits.hpp"
#include "fea/chatter/zero_order.hpp"
#include "fea/quantities/quantities.hpp"

namespace standfast {

/// Modes that a band keeps, where nothing else is said.
inline constexpr int kModesOfBand = 8;

/// The delay equation as it is near one frequency: the modes that shape the receptance there, and
/// all others by the real part of theirs at that frequency (mass-like below it, static above).
///
/// Chatter mostly keeps to one band, so that a limit found on the right one misses that of the
/// whole system by little: measured on the examples, 8 modes, 1 to 6 % rms at the speeds offered,
/// and up to half of it where two bands of nearly equal limit work on each other.
struct ModeBand {
    AngularFrequency centre;
    DelaySystem system;
};

/// Bands about the modes that give most: of modes within 30 % of each other the strongest is the
/// centre; those below a twentieth of the strongest have none. Strongest first.
/// Strength of a mode: |u| |W u| / (2 zeta w^2), W u the part of its shape that the chip feels.
/// @param modes_each  how many modes a band keeps; with no more than that in all, one band
std::vector<ModeBand> mode_bands(const DelaySystem& system, int modes_each);

/// The band to which a frequency belongs: that whose centre is nearest in ratio.
std::size_t band_of(const std::vector<ModeBand>& bands, AngularFrequency frequency);

/// The least zero-order limit of a band over all speeds, 1/(2 Re lambda) with lambda the eigenvalue
/// of A0 G of largest real part near the modes within its width, m; infinite: none. A0 of `depth`.
double least_averaged_limit(const ModeBand& band, double depth);

/// What the averaged limits of bands need of their system: its receptance at frequencies dealt out
/// to the bands (band_of).
struct BandSamples {
    AveragedCut cut;
    std::vector<SampledReceptance> of_band;
    std::vector<double> least;  ///< m, of each band's averaged limits over all speeds
};

/// The directional matrix is that of a tenth of the diameter, so that for a nose the limits rank
/// bands, no more.
/// @param coarser  factor on the frequency steps (sample_receptance)
BandSamples sample_bands(const DelaySystem& system, const std::vector<ModeBand>& bands,
                         double coarser = 1);

/// Zero-order limits of each band alone: chatter is looked for only at its own frequencies.
std::vector<StabilityLimits> averaged_limits_of_bands(const BandSamples& samples,
                                                      const std::vector<SpindleSpeed>& speeds,
                                                      double searched_to);

}  // namespace standfast
