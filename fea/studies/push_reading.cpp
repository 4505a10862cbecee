#include "fea/studies/push_reading.hpp"

#include <cmath>
#include <numeric>
#include <stdexcept>

namespace standfast {
namespace {

constexpr double kPush = 0.05, kFloor = 0.10, kFewDivisions = 5, kStays = 0.1;

double mean_of(const std::vector<double>& values) {
    return std::accumulate(values.begin(), values.end(), 0.0) / static_cast<double>(values.size());
}

/// Standard deviation of the mean; 0 for a single value.
double scatter_of(const std::vector<double>& values) {
    if (values.size() < 2) return 0;
    const double mean = mean_of(values);
    double sum = 0;
    for (const double value : values) sum += (value - mean) * (value - mean);
    const auto count = static_cast<double>(values.size());
    return std::sqrt(sum / (count - 1) / count);
}

}  // namespace

PushReading push_reading(const PushTest& push, std::optional<double> good_to) {
    if (push.moved.empty()) throw std::domain_error("push test: there is no reading");
    const double loaded = mean_of(push.moved);
    const double stayed = push.returned.empty() ? 0 : mean_of(push.returned);
    PushReading reading;
    reading.moved = loaded - stayed;
    const double relative =
        std::hypot(good_to.value_or(kPush), push.against == IndicatorBase::floor ? kFloor : 0);
    reading.deviation = std::hypot(relative * reading.moved, push.division / std::sqrt(12.0),
                                   std::hypot(scatter_of(push.moved), stayed / 2));
    if (std::abs(loaded) < kFewDivisions * push.division) {
        reading.warnings.emplace_back(
            "it moves under five divisions of the indicator: push harder, or use a finer one");
    }
    if (std::abs(stayed) > kStays * std::abs(loaded) && std::abs(stayed) > push.division) {
        reading.warnings.emplace_back(
            "it does not come back to zero: something slips or seats itself; clamp, push a few "
            "times, then measure again");
    }
    if (push.against == IndicatorBase::floor) {
        reading.warnings.emplace_back(
            "against the floor the machine's own rocking on its feet is in the reading: counted "
            "less; stand the indicator on the table or hold it in the spindle");
    }
    return reading;
}

}  // namespace standfast
