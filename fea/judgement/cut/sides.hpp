#pragma once

#include <memory>
#include <vector>

#include "fea/job/job.hpp"
#include "fea/judgement/answer/report.hpp"
#include "fea/judgement/cut/cut_problem.hpp"
#include "fea/stack/cut_receptance.hpp"

namespace standfast {

/// Both sides of every pass of a job, each solved once: tools by tool, work sides by tier, place
/// and state.
struct JobSides {
    std::vector<std::shared_ptr<const SolvedSide>> tool;  ///< per pass
    std::vector<std::shared_ptr<const SolvedSide>> work;  ///< per pass
};

/// @param passes  indices into job.passes; others stay empty
JobSides solve_sides(const Job& job, const std::vector<std::size_t>& passes);

/// The work sides alone, per pass.
std::vector<std::shared_ptr<const SolvedSide>> solve_work_sides(
    const Job& job, const std::vector<std::size_t>& passes);

/// The place of a pass where softness is judged: where along its path the part gives most; tier
/// axes.
Eigen::Vector3d judged_place(const Job& job, const Pass& pass);

std::shared_ptr<const SolvedSide> tool_side_of(const Job& job, const Pass& pass);
std::shared_ptr<const SolvedSide> work_side_of(const Job& job, const Pass& pass);

/// Frequencies that resolve the peaks of both sides; see frequency_grid.
std::vector<AngularFrequency> grid_of_both(const SolvedSide& tool, const SolvedSide& work,
                                           double coarser);

/// A pass with its sides.
CutProblem cut_problem(const Job& job, std::size_t pass, std::shared_ptr<const SolvedSide> tool,
                       std::shared_ptr<const SolvedSide> work, StabilityMethod method);

/// Listed modes of a side, at most `count`, with whose strain it is.
std::vector<ReportedMode> reported_modes(const SolvedSide& side, int count);

/// How a cut of this depth (m) lies along the edge, and the shapes of listed modes at its heights.
EdgeReport edge_report(const CutProblem& problem, double depth, std::vector<ReportedMode>& tool,
                       std::vector<ReportedMode>& work);

}  // namespace standfast
