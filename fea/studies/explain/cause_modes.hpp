#pragma once

#include <Eigen/Core>
#include <string>
#include <utility>
#include <vector>

#include "fea/judgement/answer/report.hpp"
#include "fea/judgement/cut/cut_problem.hpp"

namespace standfast {

/// A mode with its share in a vibration.
struct CauseMode {
    bool tool_side = true;
    ReportedMode mode;  ///< all members, largest strain first; none for measured modes
    double share = 0;   ///< of what both sides' modes do at that frequency in the plane of the cut
};

/// The modes that answer a force at `hertz` most, strongest first: each by
/// |u_xy|^2 / |w_n^2 - w^2 + 2 i zeta w_n w| at the cut, as a share of the sum over all modes.
/// Modes of one side that share frequency (within 0.5 %) and strain are one entry: a round tool
/// rings alike in both planes. Shares below 5 % are left out.
std::vector<CauseMode> cause_modes(const CutProblem& problem, double heading, double hertz);

/// How much of a vibration at `hertz` the averaged cut gives back per unit depth at the pass's
/// speed, 1/m: the largest real part of an eigenvalue of A0 G(w) mean(1 - exp(-i w tau_j)), with
/// tau_j the time between teeth. Its inverse is the depth at which the vibration would keep itself
/// up; 0 where it dies out at any depth. Frequencies that leave the same marks share the phase
/// between teeth, so this tells their modes and sides apart.
/// @throws std::domain_error where the pass has no speed
/// Source: Y. Altintas and E. Budak, CIRP Annals 44/1 (1995) 357-362 (memory).
double regenerative_gain(const CutProblem& problem, double heading, double hertz);

/// Frequencies with their gain, the greatest first.
struct RankedFrequency {
    double hertz = 0;
    double gain = 0;  ///< 1/m
};
std::vector<RankedFrequency> ranked_by_gain(const CutProblem& problem, double heading,
                                            const std::vector<double>& hertz);

}  // namespace standfast
