#pragma once

#include <string>
#include <vector>

#include "fea/job/job.hpp"
#include "fea/judgement/answer/report.hpp"

namespace standfast {

/// The check of one job as one JSON document, "schema": "standfast.check/1". SI units in the
/// names of the keys, full precision (a number reads back to the same double), no NaN and no
/// infinity: null stands for none. Sentences (verdict.text, advice[].text, assumed[].text) and
/// the values of advice[].set, which can be pasted into the job, are in the chosen units.
std::string check_json(const Job& job, const JobReport& report, UnitSystem units);

/// Documents of several jobs as one array, in the order given; a single one as it is.
std::string join_documents(const std::vector<std::string>& documents);

}  // namespace standfast
