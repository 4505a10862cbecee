#pragma once

#include <memory>
#include <vector>

#include "fea/judgement/answer/speed_window.hpp"
#include "fea/judgement/cut/cut_problem.hpp"
#include "fea/judgement/cut/headings.hpp"
#include "fea/studies/trade/trade.hpp"

namespace standfast {

/// A sketch may sample receptances this much more coarsely than what is reported.
inline constexpr double kSketchCoarser = 2.5;

/// One pass of an option, with what does not depend on the stickout.
struct TradePassCase {
    const Job* job = nullptr;
    const Job* open = nullptr;  ///< the same job, its passes without an axial depth: "tell me"
    std::size_t pass = 0;
    std::shared_ptr<const SolvedSide> work;
    SpeedWindow offered;
    std::vector<SpindleSpeed> speeds;  ///< of the grid, ascending
    Headings headings;                 ///< at the job's own stickout; for sketches
    double usual_depth = 0;            ///< m, programmed, or half the diameter
    double feed_per_revolution = 0;    ///< m
    /// Standard deviation of the logarithm of the frequency that matters most, over the tries of
    /// the search; 0: nothing is tried.
    double spread = 0;

    const Pass& cut() const { return job->passes[pass]; }
};

/// @param own  the tool at the job's own stickout
TradePassCase trade_pass_case(const Job& job, const Job& open, std::size_t pass,
                              const std::shared_ptr<const SolvedSide>& work, const TradedTool& own,
                              const TradeSettings& settings);

/// The job with the tool of the pass as it is in a cell.
Job job_of_cell(const TradePassCase& of, const TradedTool& tool);

/// The pass as a problem; samples only where something needs them.
/// @param job  of.job or job_of_cell(); must outlive the problem
CutProblem trade_problem(const TradePassCase& of, const Job& job, const TradedTool& tool,
                         const TradeSettings& settings);

/// The same for sketches: sampled coarsely, or not at all where `sampled` is false.
CutProblem sketch_problem(const TradePassCase& of, const TradedTool& tool, bool sampled);

/// Depth, m, that stays inside the margin to chatter and within what the cutter is made for.
double chatter_depth(const TradePassCase& of, const std::optional<double>& limit, double deepest);

/// Depth, m, at which push-off, taken as proportional to depth, uses up what the tolerance leaves
/// unflagged.
/// @param error_at_usual  m, at usual_depth, not negative
double error_depth(const TradePassCase& of, double error_at_usual);

}  // namespace standfast
