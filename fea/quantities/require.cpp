#include "fea/quantities/require.hpp"

#include <cmath>
#include <sstream>
#include <stdexcept>

namespace standfast {
namespace {

[[noreturn]] void refuse(double value, std::string_view where, std::string_view what,
                         std::string_view condition) {
    std::ostringstream message;
    message.precision(17);
    message << where << ": " << what << " is " << value << ", must be " << condition;
    throw std::domain_error(message.str());
}

}  // namespace

void require_finite(double value, std::string_view where, std::string_view what) {
    if (!std::isfinite(value)) refuse(value, where, what, "finite");
}

void require_positive(double value, std::string_view where, std::string_view what) {
    if (!(std::isfinite(value) && value > 0)) refuse(value, where, what, "positive and finite");
}

void require_not_negative(double value, std::string_view where, std::string_view what) {
    if (!(std::isfinite(value) && value >= 0)) refuse(value, where, what, "0 or more and finite");
}

void require_between(double value, double low, double high, std::string_view where,
                     std::string_view what) {
    if (std::isfinite(value) && value >= low && value <= high) return;
    std::ostringstream condition;
    condition << "between " << low << " and " << high;
    refuse(value, where, what, condition.str());
}

}  // namespace standfast
