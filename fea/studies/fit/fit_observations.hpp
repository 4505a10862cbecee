#pragma once

#include <Eigen/Core>
#include <optional>
#include <string>
#include <vector>

#include "fea/cutting/forces.hpp"
#include "fea/job/job.hpp"
#include "fea/studies/fit/fit_sides.hpp"

namespace standfast {

/// What one number of a measurement is.
enum class Observed { moved, frequency, damping, dynamic_stiffness, wall_top, wall_foot };

/// One number that was measured, with what the model needs to predict it.
struct Observation {
    std::size_t measured = 0;  ///< index into Job::measured
    Observed what = Observed::moved;
    std::size_t side = 0;
    double value = 0;      ///< m, Hz, -, N/m; a wall's stock left, m
    double deviation = 0;  ///< standard deviation: m of moved and walls, else of the logarithm
    Eigen::VectorXd load;  ///< n, N: of a push
    Eigen::VectorXd seen;  ///< n: what the indicator shows per freedom
    std::size_t mode = 0;  ///< index into FitProblem::modes
    /// Index of the nuisance that is the scale's error, common to all pushes by it; -1: none
    int scale_nuisance = -1;
};

/// A mode that was measured, to be paired with one of the model.
struct ObservedMode {
    std::size_t measured = 0;
    std::size_t side = 0;
    double hertz = 0;
    double dynamic_stiffness = 0;  ///< N/m, at the place along the direction; 0: not measured
    Eigen::MatrixXd at_place;      ///< rows x n: motion of the place that was felt
    Eigen::VectorXd shape;         ///< n: of the mode it is paired with
};

/// A cut whose wall was measured.
struct ObservedCut {
    std::optional<std::size_t> tool_side, work_side;  ///< none: constant compliance
    Eigen::Matrix3d tool = Eigen::Matrix3d::Zero(), work = Eigen::Matrix3d::Zero();  ///< m/N
    MaterialPoint tip, place;
    Eigen::Matrix3d axes_from_spindle, axes_from_stack;
    RigidCut cut;
    int force_nuisance = -1;
};

struct FitProblem {
    FitUnknowns unknowns;
    std::vector<FitSide> sides;
    std::vector<Observation> observations;
    std::vector<ObservedMode> modes;
    std::vector<ObservedCut> cuts;  ///< per measured wall; found by Observation::mode
    std::vector<std::string> warnings;
};

/// Everything measured in a job as numbers with their spread, and the sides they look at.
///
/// Usual standard deviations where the job says none (common practice, no source; the model's own
/// shortcomings are in them): a push 5 %, half a division and half a one of play, against the floor
/// 10 %; the scale that shows the force 7 %, in common for all pushes by one scale; frequencies
/// 2 %; damping 25 %; of a recording the spread between its knocks beside these; the size of a
/// receptance 15 %; a wall 20 % and 2 um. Warns of a push that does not return, moves under five
/// divisions, or counts for nothing since the dial stood still or went the other way.
/// @throws std::domain_error where nothing is measured, or a measurement looks at a side that has
///         nothing to adjust
FitProblem fit_problem(const Job& job);

/// The problem without some measurements. @param set_aside  indices into Job::measured
FitProblem without_measured(FitProblem problem, const std::vector<std::size_t>& set_aside);

}  // namespace standfast
