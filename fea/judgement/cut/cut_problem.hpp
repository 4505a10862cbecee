#pragma once

#include <memory>
#include <optional>
#include <vector>

#include "fea/chatter/equation/delay_system.hpp"
#include "fea/chatter/limits/stability_limits.hpp"
#include "fea/chatter/motion/surface_error.hpp"
#include "fea/cutting/forces.hpp"
#include "fea/job/job.hpp"
#include "fea/judgement/solids/solid_distance.hpp"
#include "fea/judgement/uncertainty/sampling.hpp"
#include "fea/stack/cut_receptance.hpp"

namespace standfast {

/// One pass with both sides solved: everything that depends on neither feed heading, spindle speed
/// nor depth. Plain data, shared freely; the job must outlive it.
struct CutProblem {
    const Job* job = nullptr;
    std::size_t pass_index = 0;
    std::shared_ptr<const SolvedSide> tool, work;
    std::vector<AngularFrequency> frequencies;  ///< grid that resolves both sides' peaks
    RigidCut cut;                               ///< depth is filled in per question
    double searched_to = 0;                     ///< m
    StabilityMethod method = StabilityMethod::zero_order;
    /// Draws of everything uncertain and both sides' receptances (own axes) for each; none: nothing
    /// is drawn.
    std::shared_ptr<const Draws> draws;
    std::shared_ptr<const std::vector<LineReceptance>> tool_draws, work_draws;
    const SolidDistance* distance = nullptr;  ///< null: reach is not judged

    const Pass& pass() const { return job->passes[pass_index]; }
    const ToolChain& tool_chain() const { return job->tools[pass().tool]; }
};

/// The cut of a pass with `depth` (m).
RigidCut rigid_cut(const Job& job, const Pass& pass, double depth);

/// Axes of the pass, and the modal receptance of the tip, at a feed heading.
CutReceptance receptance_at_heading(const CutProblem& problem, double heading);

/// What tool and part show along the edge at a feed heading; tool axes.
CutLines lines_at_heading(const CutProblem& problem, double heading);
CutLines lines_at_heading(const CutProblem& problem, const LineReceptance& tool,
                          const LineReceptance& work, double heading);

/// The relative receptance along the edge of a cut of this depth (m, > 0).
ModalReceptance edge_at_heading(const CutProblem& problem, double heading, double depth);

/// Deepest cut that is searched for a limit, m: what edge the tool has outside its holder or the
/// part has above (or below) the place, whichever is less, and 5 % more with shapes continued, so
/// that a limit right there is a number. Where neither is known (both sides by measured modes),
/// max(flute, 5 D, 60 mm).
double searched_depth(const Job& job, const Pass& pass, const SolvedSide& tool,
                      const SolvedSide& work);

/// Stability limits at a feed heading: zero-order on the sampled receptance, or periodic on the
/// modal one, as `method` says; where periodic refuses the case, zero-order with the reason in
/// StabilityLimits::fallback.
/// @param islands_to  periodic: stable depths above the limit are looked for up to so many times
///                    it, which costs several limits; 1: none are
StabilityLimits limits_at_heading(const CutProblem& problem, double heading,
                                  const std::vector<SpindleSpeed>& speeds, double islands_to = 1);

/// Whether the cut rubs by a value of its material's group, which nobody has measured for it.
bool rubs_as_its_group(const CutProblem& problem);

/// The delay equation of a pass at a feed heading.
DelaySystem delay_system(const CutProblem& problem, double heading);

/// Whether neither side gives at all.
bool nothing_gives(const CutProblem& problem);

/// Limits good enough to rank headings by: zero-order whatever the method, with the directional
/// matrix and the receptance in the middle of one depth (m), as if neither changed with depth.
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
