#pragma once

#include <string>
#include <vector>

#include "fea/studies/sound/recording.hpp"

namespace standfast {

/// One mode as several knocks let it be heard.
struct RingingMode {
    double frequency = 0;            ///< Hz, undamped
    double damping = 0;              ///< ratio
    double frequency_deviation = 0;  ///< relative standard deviation of the average
    double damping_deviation = 0;    ///< likewise
    double level = 0;                ///< amplitude over that of the loudest mode, at the start
};

/// What the knocks of one recording say.
struct RingDown {
    int knocks = 0;                    ///< that were used
    double seconds = 0;                ///< of ringing looked at after each
    std::vector<RingingMode> modes;    ///< ascending
    std::vector<double> steady;        ///< Hz: tones that do not decay, left out
    std::vector<std::string> remarks;  ///< whole clauses: clipping, knocks too close, hum
};

/// Frequencies and damping of a structure that was knocked several times and left to ring. Says
/// nothing of stiffness: a microphone does not know the force.
///
/// Each knock is looked at from a few milliseconds after it (after its last clipped sample), for at
/// most 0.6 s or until the next. Damped sines are fitted to the Fourier transforms of those
/// stretches, exactly as truncated: poles common to all knocks, amplitudes for each knock by
/// itself, weighted by the noise between the lines; the strongest peak of what is left over is
/// added until none stands out. A pole that does not decay is hum or a machine's tone and left out,
/// one of more than 12 % damping is noise of the room. The deviation is the larger of what the
/// noise leaves open and the scatter between the knocks, over the square root of their number.
/// @throws std::domain_error for a rate that is not positive, or fewer than 64 samples
/// Source: least squares over damped exponentials with variable projection (G. H. Golub and
///         V. Pereyra 1973, from memory).
RingDown ring_down(const Recording& recording);

/// Remarks of a ring-down with what was left out, clauses for a list of things to look at.
std::vector<std::string> ring_down_remarks(const RingDown& found);

/// Whether a frequency is that of mains hum: 50 or 60 Hz or one of their first multiples.
/// @param within  Hz
bool is_mains_hum(double hertz, int multiples, double within);

}  // namespace standfast
