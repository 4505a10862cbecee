#pragma once

#include <string>
#include <vector>

#include "cli/report/explain/explained.hpp"

namespace standfast {

/// What may be behind a finding that is no chatter, as far as the evidence allows: shop words, no
/// sentences; empty for chatter and for marks that ask for another measurement.
std::vector<std::string> what_it_allows(const Explained& explained);

/// One test of about five minutes that parts these (common practice, no source); empty where
/// nothing is allowed.
std::string five_minute_test(const Explained& explained);

}  // namespace standfast
