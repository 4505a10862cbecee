#pragma once

#include "cli/job/read/reading.hpp"

namespace standfast {

/// What no single key can get wrong, but two together can: a dovetail wider than its part, a cut
/// above the part's top, a tilt beyond the machine's. Each fault points at both lines. Looks only
/// at what was read without fault, so that one slip is not reported twice.
void check_job_makes_sense(Reading& reading);

/// Its three parts.
void check_stack(Reading& reading);
void check_tools(Reading& reading);
void check_passes(Reading& reading);

/// Two entries that contradict each other: the fault at one, a note at the other where the job
/// gives it.
void contradict(Reading& reading, const std::string& path, std::string message,
                std::string accepted, const std::string& other_path, std::string note);

/// "95 mm", four digits; and degrees, rpm likewise.
std::string in_mm(double metres);
std::string in_degrees(double radians);
std::string in_rpm(double radians_per_second);

}  // namespace standfast
