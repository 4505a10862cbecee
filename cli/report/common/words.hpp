#pragma once

#include <string_view>

#include "cli/text/table.hpp"
#include "fea/chatter/limits/stability_limits.hpp"
#include "fea/job/pass.hpp"
#include "fea/judgement/answer/report.hpp"

namespace standfast {

// The names of things, one word for one thing in every output form.

/// "unflagged", "marginal", "avoid": for JSON and CSV.
std::string_view level_name(Level level);

/// What a pass may be called on the screen. A pass whose hold was not judged is never "nothing
/// flagged", however good the rest.
std::string_view level_words(Level level, bool holding_judged);

/// Hatching that stands in front of the words: denser is graver.
std::string_view level_hatch(Level level, bool holding_judged);

Ink level_ink(Level level, bool holding_judged);

std::string_view reason_name(Reason reason);  ///< "surface error"
/// "too near", "hits", "tilt" ...; "none" where nothing is in the way.
std::string_view reach_fault_name(ReachFault fault);
std::string_view holding_mode_name(HoldingMode mode);   ///< "pull-out"
std::string_view holding_mode_words(HoldingMode mode);  ///< "pulls out"
std::string_view chatter_kind_name(ChatterKind kind);   ///< "period doubling"
std::string_view method_name(StabilityMethod method);   ///< "zero-order"
std::string_view milling_words(Milling milling);        ///< "down (climb)"

/// What a limit was solved on, in words.

}  // namespace standfast
