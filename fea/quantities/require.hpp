#pragma once

#include <string_view>

namespace standfast {

/// Each throws std::domain_error "where: what is VALUE, must be CONDITION" unless it holds.
/// NaN and infinities never pass.
void require_finite(double value, std::string_view where, std::string_view what);
void require_positive(double value, std::string_view where, std::string_view what);
void require_not_negative(double value, std::string_view where, std::string_view what);
void require_between(double value, double low, double high, std::string_view where,
                     std::string_view what);

}  // namespace standfast
