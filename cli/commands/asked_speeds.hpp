#pragma once

#include <vector>

#include "fea/judgement/answer/report.hpp"

namespace standfast {

/// Leaves of every curve over speed only the speeds that --speeds named, so that a script gets
/// back what it asked for. The programmed speed is computed beside them in any case; what was
/// found there stays in the verdict.
/// @param asked  empty: nothing is left out
void keep_asked_speeds(JobReport& report, const std::vector<SpindleSpeed>& asked);

}  // namespace standfast
