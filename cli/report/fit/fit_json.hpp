#pragma once

#include <optional>
#include <string>
#include <vector>

#include "fea/studies/fit/fit.hpp"

namespace standfast {

/// standfast.fit/1: SI units in the names of quantities; no NaN or infinity.
/// @param without    the fit without the readings that disagree, where some do
/// @param set_aside  names of readings that were left out
/// @param saved      file of the overlay; empty: none
std::string fit_json(const Job& job, const FitResult& result,
                     const std::optional<FitWithout>& without,
                     const std::vector<std::string>& set_aside, const std::string& saved);

}  // namespace standfast
