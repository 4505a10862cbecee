#pragma once

#include <vector>

#include "cli/text/table.hpp"
#include "fea/job/job.hpp"
#include "fea/judgement/answer/report.hpp"

namespace standfast {

/// The sections of one pass in the order in which they are read: verdict and cut, why, what
/// helps, speeds, where it gives, how to prove it.
std::vector<Paragraph> pass_sections(const Job& job, const PassReport& pass, UnitSystem units);

/// "## AVOID  finish the tall wall": hatching, level, name.
std::string headline(const PassReport& pass, int width, bool color);

}  // namespace standfast
