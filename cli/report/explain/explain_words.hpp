#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "cli/report/explain/explained.hpp"
#include "materials/units.hpp"

namespace standfast {

std::string_view cause_name(SoundCause cause);    ///< "period doubling": for JSON and the screen
std::string_view source_name(LineSource source);  ///< "tooth passing"

/// A line's frequency to 1 Hz, "1639 Hz"; below 30 Hz to 0.1 Hz.
std::string line_text(double hertz);

/// "sure (95 %)" to "a guess (40 %)".
std::string sureness_words(double confidence);

/// What the sound or the marks say by themselves, whole sentences in shop words.
std::string finding_sentence(const Explained& explained, UnitSystem units);

/// Whose vibration it is, by the model: "tool, rings at 1010 Hz (71 % spindle, 12 % grip)".
std::string mode_text(const CauseMode& mode);

/// How the model takes it: expects chatter there or not, and what that means.
std::string model_sentence(const Explained& explained, UnitSystem units);

/// One cure and what it gains, a sentence.
std::string cure_text(const Explained& explained, const Cure& cure, UnitSystem units);

/// Rules of the trade that tell by ear (common practice, no source), whole sentences.
const std::vector<std::string>& rules_of_the_trade();

/// What an explanation cannot know, whole sentences.
std::vector<std::string> explain_limits(const Explained& explained);

}  // namespace standfast
