#pragma once

#include <memory>
#include <optional>
#include <vector>

#include "fea/chatter/delay_system.hpp"
#include "fea/chatter/stability_limits.hpp"
#include "fea/chatter/surface_error.hpp"
#include "fea/cutting/forces.hpp"
#include "fea/job/job.hpp"
#include "fea/judgement/sampling.hpp"
#include "fea/judgement/side_samples.hpp"
#include "fea/judgement/solid_distance.hpp"
#include "fea/stack/cut_receptance.hpp"

namespace standfast {

/// One pass with both sides solved: everything that depends on neither feed heading, spindle speed
/// nor depth. Plain data, shared freely; the job must outlive it.
struct CutProblem {
    const Job* job = nullptr;
    std::size_t pass_index = 0;
    std::shared_ptr<const SolvedSide> tool, work;
    std::shared_ptr<const SideSamples> samples;
    RigidCut cut;            ///< depth is filled in per question
    double searched_to = 0;  ///< m
    StabilityMethod method = StabilityMethod::zero_order;
    /// Draws of everything uncertain and both sides' receptances (own axes) for each; none: nothing
    /// is drawn.
    std::shared_ptr<const Draws> draws;
    std::shared_ptr<const std::vector<ModalReceptance>> tool_draws, work_draws;
    const SolidDistance* distance = nullptr;  ///< null: reach is not judged

    const Pass& pass() const { return job->passes[pass_index]; }
    const ToolChain& tool_chain() const { return job->tools[pass().tool]; }
};

/// The cut of a pass with `depth` (m).
RigidCut rigid_cut(const Job& job, const Pass& pass, double depth);

/// Axes and modal receptance of the pass at a feed heading.
CutReceptance receptance_at_heading(const CutProblem& problem, double heading);

/// Stability limits at a feed heading: zero-order on the sampled receptance, or periodic on the
/// modal one, as `method` says; where periodic refuses the case, zero-order with the reason in
/// StabilityLimits::fallback.
StabilityLimits limits_at_heading(const CutProblem& problem, double heading,
                                  const std::vector<SpindleSpeed>& speeds);

/// The delay equation of a pass at a feed heading.
DelaySystem delay_system(const CutProblem& problem, double heading);

/// Whether neither side gives at all.
bool nothing_gives(const CutProblem& problem);

/// Limits good enough to rank headings by: zero-order whatever the method, with the directional
/// matrix of one depth (m), as if a nose's share did not change with depth. Exact zero-order limits
/// for a square corner.
StabilityLimits ranking_limits(const CutProblem& problem, double heading,
                               const std::vector<SpindleSpeed>& speeds, double depth);

/// Heights (m from the tip) at which the wall is looked at: `count` evenly from tip to depth.
std::vector<double> wall_heights(double depth, int count);

/// Largest static error along the height (signed), m, at a heading.
double static_wall_error(const CutProblem& problem, double heading, double depth);

/// Peak-to-peak wall-normal vibration of a very slow cut, m: static compliance under the force's
/// course over one revolution.
double slow_vibration(const CutProblem& problem, double heading, double depth);

}  // namespace standfast
