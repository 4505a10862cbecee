#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "fea/chatter/limits/stability_limits.hpp"
#include "fea/job/job.hpp"
#include "fea/judgement/cut/headings.hpp"
#include "fea/studies/explore/setting.hpp"
#include "materials/units.hpp"

namespace standfast {

// What the page of --explore carries besides program and style. It is written by the program and
// read by the same sources inside the page.

/// What of a job file a setting changes.
enum class JobSize { riser_height, stickout, depth, speed };

/// Where a job's text says a size, so that it can be said anew.
struct JobPlace {
    JobSize size = JobSize::depth;
    std::size_t index = 0;           ///< of the tier, tool or pass
    std::size_t at = 0, length = 0;  ///< bytes of the text that are replaced
    std::string before;              ///< what is written before the value
    double more = 0;                 ///< m that the text counts more: a gauge length's holder
    UnitSystem units = UnitSystem::metric;
};

/// A job file's text with the places of what may be turned; what another file says has none.
struct JobText {
    std::string toml;
    std::vector<JobPlace> places;
};

/// Where a pass begins: as programmed, or as check found it, and the headings judged there.
struct ExploreStart {
    ExploreSetting setting;
    Headings headings;
};

struct ExploreInput {
    Job job;
    std::vector<ExploreStart> start;  ///< one a pass
    JobText text;
    StabilityMethod method = StabilityMethod::periodic;
    int draws = 128;
    std::uint64_t seed = 1;
    UnitSystem units = UnitSystem::metric;
};

std::string packed_input(const ExploreInput& input);
/// @throws std::domain_error where the bytes are not those of an input
ExploreInput unpacked_input(std::string_view bytes);

/// The job's text with the setting in it. What it cannot say in its place (it stands in another
/// file) stands in a comment at its top.
std::string job_text(const ExploreInput& input, const ExploreSetting& setting);

}  // namespace standfast
