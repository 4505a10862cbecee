#pragma once

#include <cstddef>
#include <optional>

#include "fea/job/job.hpp"
#include "fea/judgement/report.hpp"
#include "fea/judgement/solid_distance.hpp"

namespace standfast {

struct ReachOptions {
    double clearance = 2e-3;  ///< m, wanted everywhere (Limits::clearance of the job)
    /// Judge as if a typical holder that stands in for an unknown one were the real one: for
    /// rough comparisons only, never to call a pass clear.
    bool trust_assumed_holder = false;
};
ReachOptions reach_options(const Job& job);

/// Whether tool, holder and spindle nose get to the cut: the tool's solids of revolution, along
/// the whole path, against the table, every tier, side masses, neighbouring parts and the part
/// itself in its state at that pass (scene.hpp says how each counts). Fills everything of the
/// result but least_stickout and least_riser_height, which need many more distances.
///
/// clear: every gap is at least the clearance, the machine has the tilt, and the job's figures for
/// travel and swing are kept. Not judged, with the reason: a typical holder stands in for an
/// unknown one, nothing is known of the holder, the stack has no tiers, no place of the cut.
/// @throws std::domain_error where tool or tier do not exist or a size is not physical
ReachResult reach_of_pass(const Job& job, const Pass& pass, const SolidDistance& distance,
                          const ReachOptions& options);

/// Bounds of the stickout whatever the surroundings, m.
struct StickoutRange {
    double least = 0;            ///< flutes and neck out of the holder, the cut below its face
    std::optional<double> most;  ///< none: the cutter's overall length is not given
};
StickoutRange stickout_range(const ToolChain& tool, const Pass& pass);

/// Least stickout (m) from which every longer one within the range clears, to 0.01 mm: looked for
/// on a grid from the longest down, then by bisection on the raw distance. The cutter keeps flutes
/// and neck; only its shank (uppermost segment) grows. Without a longest stickout the search ends
/// at three times the present one or 15 diameters, whichever is more. None: none clears, or reach
/// is not judged.
std::optional<double> least_stickout(const Job& job, const Pass& pass,
                                     const SolidDistance& distance, const ReachOptions& options);

/// Tier that stands for "the riser" under a pass's part: the tallest below it that is a column.
std::optional<std::size_t> riser_under(const Job& job, const Pass& pass);

/// Least height (m) of the tier from which every taller one up to 1 m clears, at the tool's
/// present stickout; at least the height at which something stands on the tier's side. None: none
/// clears, or reach is not judged.
std::optional<double> least_riser_height(const Job& job, const Pass& pass, std::size_t tier,
                                         const SolidDistance& distance,
                                         const ReachOptions& options);

}  // namespace standfast
