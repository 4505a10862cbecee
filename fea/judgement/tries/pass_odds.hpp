#pragma once

#include <map>
#include <memory>
#include <vector>

#include "fea/judgement/cut/cut_problem.hpp"
#include "fea/judgement/cut/sides.hpp"
#include "fea/judgement/tries/cut_tries.hpp"
#include "fea/judgement/uncertainty/chatter_odds.hpp"

namespace standfast {

/// The draws of a whole job: one factor a spread group and draw, shared by all its passes, since it
/// is one and the same joint, spindle or material that they stand on.
struct JobDraws {
    std::shared_ptr<const Draws> draws;
    /// Per pass: its sides' receptances (own axes) for every draw.
    std::vector<std::shared_ptr<const std::vector<LineReceptance>>> tool, work;
};

/// Receptances of sides for every draw, kept for jobs that share those sides, draws and seed.
using DrawnSides = std::map<const SolvedSide*, std::shared_ptr<const std::vector<LineReceptance>>>;

/// Draws everything uncertain about the sides and force data of these passes; each side is reduced
/// once.
/// @param tools  tool sides drawn before, which must outlive it; null: none are kept
/// @param works  the same of work sides
/// @throws std::domain_error for a spread that is not one
JobDraws draw_job(const Job& job, const std::vector<std::size_t>& passes, const JobSides& sides,
                  const OddsOptions& options, DrawnSides* tools = nullptr,
                  DrawnSides* works = nullptr);

/// The delay equation of a pass for every draw; the problem must have draws.
std::vector<DelaySystem> drawn_systems(const CutProblem& problem, double heading);

/// The odds of one pass at a speed and depth: over the given speeds, or where there are none over
/// the machine's range. The problem must have draws, and these must be its tries;
/// heading: that of stability.
std::shared_ptr<const ChatterOdds> pass_odds(const CutProblem& problem, const CutTries& tries,
                                             double heading, SpindleSpeed judged, double depth,
                                             const std::vector<SpindleSpeed>& speeds,
                                             const OddsOptions& options);

}  // namespace standfast
