#pragma once

#include <vector>

#include "cli/page/level_markup.hpp"
#include "cli/page/page.hpp"
#include "fea/job/job.hpp"
#include "fea/judgement/answer/report.hpp"
#include "materials/units.hpp"

namespace standfast {

/// A job and what check answered.
struct PagedJob {
    const Job* job = nullptr;
    const JobReport* report = nullptr;
    std::string path;
};

/// The page of check: several jobs stand side by side at its top, each in full below.
ReportPage check_page(const std::vector<PagedJob>& jobs, UnitSystem units);

/// One pass in full: verdict, what helps, drawing, charts.
void add_pass(ReportPage& page, const Job& job, const PassReport& pass, UnitSystem units);

/// What was assumed, not judged, and the cautions.
void add_ending(ReportPage& page, const std::vector<Assumption>& assumed,
                const std::vector<std::string>& not_judged,
                const std::vector<std::string>& cautions, UnitSystem units);

}  // namespace standfast
