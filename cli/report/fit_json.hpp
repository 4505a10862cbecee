#pragma once

#include <string>

#include "fea/studies/fit.hpp"

namespace standfast {

/// standfast.fit/1: SI units in the names of quantities; no NaN or infinity.
/// @param saved  file of the overlay; empty: none
std::string fit_json(const Job& job, const FitResult& result, const std::string& saved);

}  // namespace standfast
