#pragma once

#include <optional>
#include <string>
#include <vector>

#include "fea/studies/sound/recording.hpp"

namespace standfast {

/// A stretch of a recording, s from its beginning.
struct Stretch {
    std::optional<double> from, to;
};

/// A recording as read, with what is worth knowing of it.
struct SoundFile {
    Recording recording;
    std::string format;                 ///< "WAV", "FLAC", "universal file 58"
    double from = 0;                    ///< s, of the first sample used
    std::vector<std::string> warnings;  ///< whole sentences
};

/// Longest recording that is taken in, samples a channel: the rest is left out with a warning, so
/// that memory stays small however long the file claims to be.
inline constexpr std::size_t kMostSamples = std::size_t{1} << 24;
inline constexpr int kMostChannels = 2;

/// Reads a recording by libsndfile (WAV, FLAC, AIFF, Ogg and what else that knows) or, where the
/// file is a universal file, its first record over time. Of more than two channels the first two.
/// @throws MeasurementError "FILE: byte N: ..." where the file is missing, empty, cut short, no
///         sound, holds a sample that is not a finite number, has a sampling rate outside 500 Hz
///         to 1 MHz, fewer than 64 samples, or nothing in the stretch
SoundFile read_recording(const std::string& path, const Stretch& stretch = {});

}  // namespace standfast
