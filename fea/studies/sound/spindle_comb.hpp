#pragma once

#include <vector>

#include "fea/studies/sound/spectral_lines.hpp"

namespace standfast {

/// The spindle speed as the sound itself tells it.
struct RefinedSpeed {
    double revolutions_per_second = 0;
    double relative_error = 0;  ///< one standard error of it, as a fraction of it
    bool refined = false;       ///< false: too little in the sound; the display's speed, +-1 %
    int lines = 0;              ///< that agree with it
    /// How far the agreement stands out of what other speeds near the display's reach by accident,
    /// in standard deviations of these.
    double contrast = 0;
};

struct CombSearch {
    double widest = 0.023;  ///< fraction of the displayed speed, either side
    double to_hertz = 8000;
};

/// Finds the speed near the displayed one at which most lines of the sound fall into place: on
/// multiples of the tooth-passing frequency, on other multiples of the spindle's, or a whole number
/// of tooth passings away from the strongest line (a chatter line's neighbours tell the speed as
/// well as the harmonics do, and are all that is left when chatter drowns them). Lines count by the
/// logarithm of their prominence, so that no single one decides; then the speed is fitted to those
/// that fit, by least squares. A speed that stands out no more than accidents do is not taken.
/// @param placing  Hz, within which a line's place is known
RefinedSpeed refine_speed(const std::vector<SpectralLine>& lines, const HeardCut& cut,
                          double placing, const CombSearch& search = {});

/// Hz by which a line may miss the multiple `order` of the spindle and still be it: what its place
/// is known to, and the speed's error times the multiple. Beyond the order at which it reaches half
/// the spacing nothing can be told apart.
double guard_hertz(const RefinedSpeed& speed, double order, double placing);

/// Whether a line may be the mains' hum: a low multiple of 50 or 60 Hz, within 0.3 %.
bool may_be_hum(double hertz, double resolution, double mains_hertz);

}  // namespace standfast
