#pragma once

#include <cstddef>
#include <vector>

namespace standfast {

// Room "studies", sound: what a recording of a cut says by itself, without a model of the machine.
// Recording -> spectrum -> lines -> spindle speed -> source of each line -> finding.

/// What a microphone or a pick-up heard. Any scale; nothing here depends on it.
struct Recording {
    double rate = 0;                           ///< samples a second
    std::vector<std::vector<float>> channels;  ///< all of one length

    std::size_t samples() const { return channels.empty() ? 0 : channels.front().size(); }
    double seconds() const { return rate > 0 ? static_cast<double>(samples()) / rate : 0; }
};

/// The cut as the machine shows it.
struct HeardCut {
    double revolutions_per_second = 0;  ///< of the spindle's display, off by up to a percent
    int teeth = 0;
    bool even_pitch = true;
    double mains_hertz = 0;  ///< 50 or 60 where it is known; 0: both are thought of
};

}  // namespace standfast
