#include "fea/studies/fit/push_reading.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <stdexcept>

namespace standfast {
namespace {

constexpr double kReading = 0.5, kPlay = 0.5;  // divisions of the dial
constexpr double kCountsForNothing = 1000;     // divisions
constexpr double kInLine = 0.99;               // cosine between push and indicator
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

/// Whether the indicator stands where the push goes, along it.
bool in_line(const PushTest& push) {
    const bool here = push.pushed.tool == push.read.tool && push.pushed.tier == push.read.tier &&
                      push.pushed.at == push.read.at;
    return here && push.direction.normalized().dot(push.read_direction.normalized()) > kInLine;
}

void count_for_nothing(PushReading& reading, const PushTest& push, const char* why) {
    reading.counts = false;
    reading.deviation = std::max(kCountsForNothing * push.division, 10 * std::abs(reading.moved));
    reading.warnings.emplace_back(why);
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
    reading.deviation =
        std::hypot(relative * reading.moved, std::hypot(kReading, kPlay) * push.division,
                   std::hypot(scatter_of(push.moved), stayed / 2));
    if (std::abs(reading.moved) < push.division) {
        count_for_nothing(reading, push,
                          "the dial did not move by a division: is it stuck, off its place, or on "
                          "the part that it is meant to be read against? Push harder; until then "
                          "it counts for nothing");
    } else if (reading.moved < 0 && in_line(push)) {
        count_for_nothing(reading, push,
                          "it moved against the push: sign reversed? Until that is known it counts "
                          "for nothing");
    } else if (std::abs(loaded) < kFewDivisions * push.division) {
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
