#pragma once

#include <span>
#include <string_view>

#include "fea/job/limits.hpp"
#include "materials/units.hpp"

namespace standfast {

/// A key of [limits] and the threshold that it sets.
struct LimitKey {
    std::string_view key;
    double Limits::*member;
    Quantity quantity;  ///< number: bare, or in percent
};

std::span<const LimitKey> limit_keys();

}  // namespace standfast
