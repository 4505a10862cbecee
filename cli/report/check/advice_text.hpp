#pragma once

#include <string>

#include "fea/job/job.hpp"
#include "fea/judgement/answer/report.hpp"

namespace standfast {

/// One change and what it gains, as a sentence: "Shorten the stickout of long finisher to 45 mm:
/// edge of chatter 1.9 times as deep, wall error 40 % smaller; then marginal."
std::string advice_text(const Job& job, const PassReport& pass, const Advice& advice,
                        UnitSystem units);

/// Feed speed along the path, m/s: feed per tooth x teeth x revolutions per second.
double feed_of(const Job& job, const PassReport& pass, SpindleSpeed speed);

}  // namespace standfast
