#pragma once

#include <memory>
#include <optional>
#include <vector>

#include "fea/judgement/at_speed.hpp"
#include "fea/judgement/speed_window.hpp"
#include "fea/studies/trade.hpp"

namespace standfast {

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
};

/// @param own  the tool at the job's own stickout
TradePassCase trade_pass_case(const Job& job, const Job& open, std::size_t pass,
                              const std::shared_ptr<const SolvedSide>& work, const TradedTool& own,
                              const TradeSettings& settings);

/// A cell as zero-order limits on a coarse receptance and slow push-off have it.
struct CellSketch {
    std::vector<std::optional<double>> limits;  ///< m, over the case's speeds
    std::optional<double> limit;                ///< m, at the programmed speed
    std::vector<double> usable;      ///< m, over the case's speeds; 0: none, or not offered
    double worth = 0;                ///< m rad/s, speed times usable depth, the largest
    Level level = Level::unflagged;  ///< of chatter and push-off as programmed
    Level push_off_level = Level::unflagged;
};
CellSketch sketch_cell(const TradePassCase& of, const TradedTool& tool);

/// A cell judged as `check` judges a pass.
struct CellAnswer {
    Headings headings;
    SpindleSpeed speed;
    double depth = 0;  ///< m, judged
    SpeedLimit limit;  ///< at that speed
    std::optional<Recommendation> best;
    double removal = 0;  ///< m^3/s
    PassAnswer answer;
    std::optional<double> probability;
    std::vector<std::optional<double>> limits;  ///< m, over the case's speeds; every_speed only
};
CellAnswer work_out_cell(const TradePassCase& of, const TradedTool& tool, const CellSketch& sketch,
                         const TradeSettings& settings);

/// Limit of one cell at one speed by the settings' method, and at every speed of the case where
/// they ask for it.
struct CellLimits {
    SpeedLimit at;
    std::vector<SpeedLimit> every;
};
CellLimits cell_limits(const TradePassCase& of, const TradedTool& tool, SpindleSpeed speed,
                       const TradeSettings& settings);

/// The job with the tool of the pass as it is in that cell.
Job job_of_cell(const TradePassCase& of, const TradedTool& tool);

/// The pass as a problem; samples only where something needs them.
/// @param job  of.job or job_of_cell(); must outlive the problem
CutProblem trade_problem(const TradePassCase& of, const Job& job, const TradedTool& tool,
                         const TradeSettings& settings);

}  // namespace standfast
