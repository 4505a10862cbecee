#pragma once

#include <string>

#include "fea/judgement/answer/report.hpp"

namespace standfast {

/// A level as a word with its hatching.
std::string level_html(Level level, bool holding_judged);

/// "about 9 of 10" as dots that can be counted.
std::string dots_html(double share);

}  // namespace standfast
