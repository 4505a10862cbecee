#pragma once

#include <cstddef>
#include <optional>
#include <string>

#include "fea/job/job.hpp"

namespace standfast {

/// What is turned at on one pass while its set-up is explored.
struct ExploreSetting {
    std::size_t pass = 0;
    std::optional<double> riser_height;  ///< m; none: as the job has it
    std::optional<double> stickout;      ///< m, holder face to tip; none: as the job has it
    double depth = 0;                    ///< m, > 0
    SpindleSpeed speed;
};

/// Between which a size may be turned, m.
struct ExploreRange {
    double least = 0, most = 0;
};

/// What of a pass may be turned, and how far; where something may not, why.
struct ExploreRanges {
    std::optional<ExploreRange> riser_height, stickout;
    std::string why_no_riser, why_no_stickout;  ///< plain words
};

/// Tier whose height is turned: the riser under the pass's part (riser_under).
std::optional<std::size_t> riser_of(const Job& job, const Pass& pass);

/// A riser from a quarter to two and a half times as tall as it is, but not one on whose side
/// something stands at a given place; a stickout from what flutes and neck need to what the grip
/// leaves of the cutter, or where that is not known to twice what it is.
ExploreRanges explore_ranges(const Job& job, const Pass& pass);

/// Deepest cut that may be set at a setting's stickout, m: the edge out of the holder, or the
/// material above (or below) the place of the cut, whichever is less.
/// @param work_reach  m, SolvedSide::reach of the work side; 0: unknown
double deepest_setting(const Job& job, const Pass& pass, double work_reach);

/// The job with the setting made: what a job file says that gives these sizes in place of its own.
/// @throws std::domain_error where pass, riser or tool is not there to be turned
Job with_setting(Job job, const ExploreSetting& setting);

}  // namespace standfast
