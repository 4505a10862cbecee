#pragma once

#include <optional>

#include "cli/page/page.hpp"
#include "fea/studies/fit/fit.hpp"
#include "materials/units.hpp"

namespace standfast {

/// The page of fit: measured against modelled, before and after; the joints; what disagrees.
/// @param title  of the job, or its path
ReportPage fit_page(const Job& job, const std::string& title, const FitResult& result,
                    const std::optional<FitWithout>& without, UnitSystem units);

}  // namespace standfast
