#pragma once

#include <string>
#include <string_view>

#include "cli/sound/read_recording.hpp"

namespace standfast {

/// Whether a file begins as a universal file does: a line of blanks and "-1".
bool looks_universal(std::string_view head);

/// The records over time of a universal file that share the first one's step and length, as
/// channels.
/// @throws MeasurementError as read_uff, or where there is none with even steps
SoundFile read_universal_recording(const std::string& path, const Stretch& stretch);

}  // namespace standfast
