#pragma once

#include <cstddef>
#include <optional>
#include <string>

#include "fea/job/job.hpp"
#include "fea/judgement/answer/report.hpp"
#include "fea/judgement/solids/solid_distance.hpp"

namespace standfast {

struct ReachOptions {
    double clearance = 2e-3;  ///< m, wanted everywhere (Limits::clearance of the job)
    /// Judge as if a typical holder that stands in for an unknown one were the real one: for
    /// rough comparisons only, never to call a pass clear.
    bool trust_assumed_holder = false;
};
ReachOptions reach_options(const Job& job);

/// Why reach cannot be judged, in plain words; empty where it can.
std::string why_reach_is_unknown(const Job& job, const Pass& pass, const ReachOptions& options);

/// Whether tool, holder and spindle nose get to the cut: the tool's solids of revolution, along
/// the whole path, against the table, every tier, side masses, neighbouring parts and the part
/// itself in its state at that pass (tool_solids.hpp, work_solids.hpp and cut_place.hpp say how
/// each counts). Fills everything of the result but least_stickout and least_riser_height, which
/// need many more distances.
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

/// Least stickout (m) that clears, to 0.01 mm: the first on a grid over the range, then bisection
/// on the raw distance between it and the one before. The cutter keeps flutes and neck; only its
/// shank (uppermost segment) grows. Without a longest stickout the search ends at three times the
/// present one or 15 diameters, whichever is more. None: none clears, or reach is not judged.
std::optional<double> least_stickout(const Job& job, const Pass& pass,
                                     const SolidDistance& distance, const ReachOptions& options);

/// Tier that stands for "the riser" under a pass's part: the tallest below it that is a column.
std::optional<std::size_t> riser_under(const Job& job, const Pass& pass);

/// Least height (m) of the tier, to 0.1 mm, that clears at the tool's present stickout, looked for
/// likewise up to 1 m, with what is beside it moved as a TierHeight edit moves it; no lower than
/// that lets (0: even without it).
/// None: none clears, or reach is not judged.
std::optional<double> least_riser_height(const Job& job, const Pass& pass, std::size_t tier,
                                         const SolidDistance& distance,
                                         const ReachOptions& options);

}  // namespace standfast
