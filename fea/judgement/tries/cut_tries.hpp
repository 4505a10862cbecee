#pragma once

#include <optional>
#include <vector>

#include "fea/chatter/equation/delay_system.hpp"
#include "fea/judgement/cut/cut_problem.hpp"
#include "fea/judgement/cut/headings.hpp"
#include "fea/judgement/uncertainty/wall_tries.hpp"

namespace standfast {

/// The same tries with a fresh edge, which does not rub.
std::vector<DelaySystem> with_fresh_edges(std::vector<DelaySystem> tries);

/// The tries of a pass: its delay equation for every draw, at the headings that it is judged at.
/// Everything that is judged or promised of a pass is judged with the same tries.
struct CutTries {
    std::vector<DelaySystem> at_stability;  ///< empty: nothing was drawn
    std::vector<DelaySystem> at_error;      ///< empty: the same as at_stability

    bool rough = false;  ///< a few that a search asks; what it finds is tried again with all

    bool none() const { return at_stability.empty(); }
    const std::vector<DelaySystem>& of_wall() const {
        return at_error.empty() ? at_stability : at_error;
    }
};

/// None where the problem has no draws.
CutTries cut_tries(const CutProblem& problem, const Headings& headings);

/// Every fourth of the tries, to look for what may hold; all of them where they are few. What is
/// told is tried with all.
CutTries a_few(const CutTries& tries);

/// One speed and depth, tried.
struct TriedCut {
    int tries = 0;
    double unstable = 0;  ///< share of the tries that chatter
    /// The same with an edge that does not rub; none where rubbing is not the material group's, or
    /// where enough tries chatter already that it would not alter the level of the cut.
    std::optional<double> fresh_unstable;
    std::optional<WallTries> wall;  ///< none where too few of the tries are stable to tell
};

/// The wall of those tries that are stable at a speed and depth; none where they are too few to
/// tell. Of rough tries the first 12 stable ones tell of it; where teeth differ, so that the wall
/// is followed in time, every fourth try serves.
/// @param stable  which of the tries, ascending
std::optional<WallTries> wall_of_tries(const CutProblem& problem, const CutTries& tries,
                                       std::vector<std::size_t> stable, SpindleSpeed speed,
                                       double depth);

/// Tries a cut: whether it chatters (depth_stability.hpp), and where it does not, what the wall
/// comes out like (wall_of_tries). Of rough tries, a cut that the first 16 leave is taken to hold.
/// @param depth  m, > 0
/// @param most   given up as soon as the share that chatters is known not to be less: none; and
///               answered by 64 of the tries where they leave less than a quarter of it
std::optional<TriedCut> try_cut(const CutProblem& problem, const CutTries& tries,
                                SpindleSpeed speed, double depth, double most = 2);

}  // namespace standfast
