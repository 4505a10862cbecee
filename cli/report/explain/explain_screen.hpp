#pragma once

#include <string>

#include "cli/report/check/screen.hpp"
#include "cli/report/explain/explained.hpp"

namespace standfast {

/// One screen: what was found and how surely, what was heard or seen, whose vibration it is by the
/// model, cures with their gain, rules of the trade, cautions.
std::string explain_screen(const Explained& explained, const ScreenOptions& options);

/// The finding alone, in a line.
std::string explain_quiet_text(const Explained& explained, const ScreenOptions& options);

}  // namespace standfast
