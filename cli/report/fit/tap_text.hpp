#pragma once

#include <string>

#include "cli/text/table.hpp"
#include "fea/studies/sound/ring_down.hpp"

namespace standfast {

/// What a recording of knocks says, in shop words, with the lines for a job.
/// @param path  of the recording, as the user wrote it
std::string tap_text(const RingDown& found, const std::string& path, const Page& page);

/// standfast.tap/1: knocks, seconds, modes[]{frequency_hz, damping_ratio, frequency_deviation,
/// damping_deviation (relative, one standard deviation), level}, left_out_hz[], remarks[],
/// cautions[].
std::string tap_json(const RingDown& found);

}  // namespace standfast
