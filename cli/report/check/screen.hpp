#pragma once

#include <string>
#include <vector>

#include "cli/text/table.hpp"
#include "fea/job/job.hpp"
#include "fea/judgement/answer/report.hpp"

namespace standfast {

struct ScreenOptions {
    UnitSystem units = UnitSystem::metric;
    Page page;
    bool list_assumed = false;
};

/// One screen for the person at the machine: the verdict first, then why, what helps most, which
/// speeds, where it gives, how to prove it; what was not judged, what was assumed, cautions last.
/// Of several passes every one has a line, the worst first, and the worst its detail.
std::string screen_text(const Job& job, const JobReport& report, const ScreenOptions& options);

/// One line for each pass and the caution, for --quiet.
std::string quiet_text(const JobReport& report, const ScreenOptions& options);

/// Indices into JobReport::passes, gravest first: by level, then by programmed depth over the
/// edge of chatter.
std::vector<std::size_t> worst_first(const JobReport& report);

}  // namespace standfast
