#pragma once

#include <Eigen/Core>
#include <cstddef>
#include <string>
#include <vector>

#include "fea/studies/fit/fit.hpp"

namespace standfast {

/// One reading worth taking, in the order in which to take it.
struct PlannedReading {
    Measured measured;      ///< push: place, direction, force, base; tap: what should ring
    double expected = 0;    ///< m that the dial should show, or Hz of the lowest tone
    bool resolved = false;  ///< the dial shows five divisions or more; of a tap: true
    /// 10-90 % factor of the edge of chatter, as far as joints, table, spindle and damping make it
    /// unsure, before and after this reading and all those above it
    double before = 1, after = 1;
};

struct MeasuringPlan {
    std::size_t pass = 0;
    double limit = 0;   ///< m, edge of chatter at the worst speed, as modelled
    double spread = 1;  ///< its 10-90 % factor now, what the job has measured already included
    std::vector<PlannedReading> readings;
};

/// What is planned with.
struct PlanningOptions {
    double stack_force = 400, tool_force = 100;  ///< N, by hand with a scale
    double division = 1e-6;                      ///< m, of the dial
    std::size_t most = 6;                        ///< readings
};

/// Ranks pushes at the top of every tier and at the tool's tip and holder (along x and y, indicator
/// on the table or in the spindle) and recorded taps at the part, the riser and the tool's tip by
/// how much each, after those before it, narrows the edge of chatter of a pass. The edge is that at
/// the worst speed (zero-order), which bends little in the logarithms of stiffness and damping, so
/// that its spread follows from its slopes and the linearised fit. What measuring cannot tell
/// (cutting force, moduli) is not in the spread. Ends where a reading gains less than 2 %.
/// @throws std::domain_error where the pass has no joints that could be measured
/// Source: Bayesian experimental design by greedy choice of the least posterior variance, textbook.
MeasuringPlan measuring_plan(const Job& job, std::size_t pass, const PlanningOptions& options = {});

/// Edge of chatter of a pass at the worst speed, m, with its joints multiplied by factors.
/// @param logs  logarithms, in the order of `unknowns`
double worst_limit(const Job& job, std::size_t pass, const std::vector<FitUnknown>& unknowns,
                   const Eigen::VectorXd& logs);

}  // namespace standfast
