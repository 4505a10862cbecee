#pragma once

#include <string>
#include <string_view>

namespace standfast {

/// What is wrong with the sizes that a RIFF (WAV) file claims; empty where nothing is.
struct WaveSize {
    std::string fault;    ///< "byte 40: ..."
    std::string warning;  ///< the recorder never filled in the size
};

/// Walks the chunks of a RIFF or RF64 file as far as the one with the samples. libsndfile takes
/// what there is and says nothing of what is missing.
/// @param head       beginning of the file, a few kilobytes
/// @param true_size  of the whole file, bytes
WaveSize check_wave_size(std::string_view head, unsigned long long true_size);

}  // namespace standfast
