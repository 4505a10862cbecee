#include "cli/job/check/check_job_makes_sense.hpp"

#include <fmt/format.h>

#include <numbers>

namespace standfast {

void contradict(Reading& reading, const std::string& path, std::string message,
                std::string accepted, const std::string& other_path, std::string note) {
    Diagnostic fault{.where = place_of(reading, path),
                     .message = std::move(message),
                     .accepted = std::move(accepted)};
    if (is_given(reading, other_path)) {
        fault.notes.push_back({place_of(reading, other_path), std::move(note)});
    }
    fail(reading, std::move(fault));
}

std::string in_mm(double metres) { return fmt::format("{:.4g} mm", metres * 1e3); }

std::string in_degrees(double radians) {
    return fmt::format("{:.4g} deg", radians * 180 / std::numbers::pi);
}

std::string in_rpm(double radians_per_second) {
    return fmt::format("{:.0f} rpm", SpindleSpeed{radians_per_second}.rpm());
}

void check_job_makes_sense(Reading& reading) {
    if (!reading.errors.empty() && reading.job.passes.empty()) {
        return;
    }
    check_stack(reading);
    check_tools(reading);
    check_passes(reading);
}

}  // namespace standfast
