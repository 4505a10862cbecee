#pragma once

#include <Eigen/Core>
#include <memory>
#include <vector>

#include "fea/chatter/zero_order.hpp"
#include "fea/stack/cut_receptance.hpp"

namespace standfast {

/// Both sides' receptances on one grid of frequencies, each in its own axes (spindle, stack), m/N.
/// Solved once for a pass; every feed heading only turns them.
struct SideSamples {
    std::vector<AngularFrequency> frequency;
    std::vector<Eigen::Matrix3cd> tool, work;
};

/// Samples to `up_to`, with the peaks of both sides resolved; structural damping as
/// the direct solve has it (pole_receptance.hpp) where a side is not measured.
/// @param coarser  factor on every step, for answers that need only rank
SideSamples sample_sides(const SolvedSide& tool, const SolvedSide& work, AngularFrequency up_to,
                         double coarser = 1);

/// G_tool + R^T G_work R in tool axes for one feed heading.
SampledReceptance relative_samples(const SideSamples& samples, double tilt, double turn,
                                   double feed_heading);

}  // namespace standfast
