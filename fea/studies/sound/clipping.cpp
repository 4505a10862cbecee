#include "fea/studies/sound/clipping.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace standfast {

double clipped_share(const Recording& recording) {
    std::size_t clipped = 0;
    for (const std::vector<float>& channel : recording.channels) {
        float stop = 0;
        for (const float x : channel) stop = std::max(stop, std::abs(x));
        std::size_t run = 0;
        for (const float x : channel) {
            run = stop > 0 && std::abs(x) >= 0.9999F * stop ? run + 1 : 0;
            if (run >= 2) clipped += run == 2 ? 2 : 1;
        }
    }
    const double all =
        static_cast<double>(recording.samples()) * static_cast<double>(recording.channels.size());
    return all > 0 ? static_cast<double>(clipped) / all : 0;
}

}  // namespace standfast
