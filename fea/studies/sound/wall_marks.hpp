#pragma once

#include <optional>
#include <vector>

#include "fea/studies/sound/sound_finding.hpp"

namespace standfast {

/// The cut that left marks on a wall.
struct MarkedCut {
    double revolutions_per_second = 0;
    int teeth = 0;
    bool even_pitch = true;
    double feed_per_tooth = 0;  ///< m
    double diameter = 0;        ///< m
    double helix = 0;           ///< rad

    double tooth_passing_hertz() const { return revolutions_per_second * teeth; }
};

/// Spacing of marks along the feed that a vibration leaves, m: successive teeth sample it once a
/// tooth, so the pattern repeats every L = f_z f_tp / |f - k f_tp| with k the nearest whole number.
/// None where f is a multiple of f_tp within one part in a million: every tooth writes the same.
/// Own derivation.
std::optional<double> mark_spacing(double hertz, const MarkedCut& cut);

/// Pitch of the wave that one edge writes along the axis, m: pi D n / (f tan(helix)). None without
/// helix. Own derivation.
std::optional<double> axial_mark_pitch(double hertz, const MarkedCut& cut);

/// Vibration between one tooth and the next.
struct WavesBetweenTeeth {
    int whole = 0;     ///< waves
    double phase = 0;  ///< rad, of the rest, 0 to 2 pi
};
WavesBetweenTeeth waves_between_teeth(double hertz, double tooth_passing_hertz);

/// What marks on a wall say by themselves.
struct MarksFinding {
    SoundCause cause = SoundCause::unclear;
    double confidence = 0;
    /// Hz, every frequency that leaves such marks, ascending; empty where no vibration is needed.
    std::vector<double> candidates;
    std::optional<double> by_axial;  ///< of the candidates the one that the axial pitch tells
};

/// Marks a tooth apart (within 12 %) are the feed's own: forced. A revolution apart (within 5 %):
/// runout; with two teeth that is also what period doubling leaves: unclear. Two teeth apart:
/// period doubling, at (k + 1/2) f_tp. Otherwise chatter at k f_tp +- f_z f_tp / L. Marks closer
/// than two teeth but no tooth apart: unclear.
/// @param spacing  m, along the feed
/// @param axial    m, pitch of the slanted waves along the tool axis, where it was measured
/// @param highest_hertz  candidates end there
/// @throws std::domain_error for a spacing, feed or speed that is not positive
MarksFinding read_marks(double spacing, std::optional<double> axial, const MarkedCut& cut,
                        double highest_hertz);

/// What a single tone says that was read off a phone: forced within the guard of a multiple of the
/// tooth-passing frequency, runout within that of one of the spindle's, period doubling midway
/// between tooth passings with an odd number of teeth, else chatter; unclear where the guard covers
/// more than half of the gap; confidence falls by the share of the gap that it covers. The guard
/// grows with the order: display and reading are each off by
/// up to half a percent (common practice, no source).
struct ToneFinding {
    SoundCause cause = SoundCause::unclear;
    double confidence = 0;
    double nearest_order = 0;  ///< of the tooth-passing frequency, whole
    double away_hertz = 0;     ///< from it
    double guard_hertz = 0;
};
ToneFinding place_tone(double hertz, const HeardCut& cut);

}  // namespace standfast
