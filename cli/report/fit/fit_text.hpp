#pragma once

#include <optional>
#include <string>

#include "cli/text/table.hpp"
#include "fea/studies/fit/fit.hpp"
#include "materials/units.hpp"

namespace standfast {

/// "143 N/um sideways, was 310 N/um", "loss factor 0.041, was 0.03".
std::string before_and_after(const FitAdjusted& adjusted, UnitSystem units = UnitSystem::metric);

/// What a measured number is called: "moved", "frequency", "stock at the top".
std::string observed_words(Observed what);

/// A number of that kind with its unit.
std::string observed_text(double value, Observed what, UnitSystem units);

struct FitScreen {
    UnitSystem units = UnitSystem::metric;
    Page page;
    std::string job_path;
    std::string saved;  ///< file of the overlay; empty: not saved
};

/// The result in shop words on one screen.
/// @param without  the fit without the readings that disagree, where some do
std::string fit_text(const Job& job, const FitResult& result,
                     const std::optional<FitWithout>& without, const FitScreen& screen);

/// Where measuring can hurt.
const std::vector<std::string>& measuring_cautions();

}  // namespace standfast
