#include <sys/mman.h>
#include <unistd.h>

#include <cmath>
#include <string>

#include "cli/sound/read_recording.hpp"
#include "cli/uff/measurement_error.hpp"
#include "tests/fuzz/targets/targets.hpp"

namespace standfast::fuzz {

void try_recording(std::string_view bytes) {
    // The reader takes a path: a file in memory has one.
    const int descriptor = memfd_create("recording", 0);
    if (descriptor < 0) return;
    const bool whole =
        write(descriptor, bytes.data(), bytes.size()) == static_cast<ssize_t>(bytes.size());
    try {
        if (whole) {
            const SoundFile file = read_recording("/proc/self/fd/" + std::to_string(descriptor));
            for (const auto& channel : file.recording.channels) {
                for (const auto sample : channel) {
                    if (!std::isfinite(sample)) broken("a sample that is not finite");
                }
            }
        }
    } catch (const MeasurementError&) {
    }
    close(descriptor);
}

}  // namespace standfast::fuzz
