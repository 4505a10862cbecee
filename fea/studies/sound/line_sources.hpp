#pragma once

#include <optional>
#include <vector>

#include "fea/studies/sound/spindle_comb.hpp"

namespace standfast {

enum class LineSource { tooth_passing, spindle, chatter, hum, unknown };

/// A tone and where it comes from.
struct HeardLine {
    SpectralLine line;
    LineSource source = LineSource::unknown;
    /// Multiple of the tooth-passing frequency (tooth passing, chatter; a half and more for period
    /// doubling) or of the spindle's (spindle); none for hum and unknown.
    std::optional<double> order;
};

/// Hz from a frequency to the nearest multiple of the tooth-passing frequency (0 included): equal
/// for all lines of one chatter motion, which stand at +-f + k f_tp.
double folded(double hertz, double tooth_passing);

/// Lines that are one vibration seen through the teeth: equal when folded.
struct ChatterFamily {
    std::vector<std::size_t> members;  ///< indices, the strongest first
    double power = 0;
    int neighbours = 0;  ///< members beside the strongest
    /// Probability that as many of the lines at hand would have met by accident, for whichever of
    /// them one starts from.
    double chance = 1;
    bool halfway = false;  ///< midway between tooth-passing harmonics: period two

    /// Whether accident can be left out.
    bool vouched() const;
};

/// Tells apart tooth passing, other multiples of the spindle, and mains hum; everything else stays
/// unknown. A line that hum and spindle both explain is the spindle's. For unevenly pitched teeth
/// any multiple of the spindle is of tooth passing.
std::vector<HeardLine> lines_with_sources(const std::vector<SpectralLine>& lines,
                                          const HeardCut& cut, const RefinedSpeed& speed,
                                          double placing);

/// The strongest family among unknown lines and those taken for hum; families with neighbours a
/// tooth passing away that are no accident go before single tones, which a pump or an inverter may
/// make as well. Where runout splits chatter further, neighbours a revolution away count too. Hum
/// joins only a family that has two lines without it. Empty where there is none.
/// @param placing  Hz, within which a line's place is known
ChatterFamily chatter_family(const std::vector<HeardLine>& lines, const HeardCut& cut,
                             const RefinedSpeed& speed, double placing);

}  // namespace standfast
