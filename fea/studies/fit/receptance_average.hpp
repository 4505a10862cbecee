#pragma once

#include <cstddef>
#include <optional>

#include "fea/job/job.hpp"

namespace standfast {

/// The receptance measured at a place as the average of all measurements of the job at the same
/// place along the same line and at the same frequencies: means weighted with gamma^2 /
/// (1 - gamma^2), the reciprocal of a value's relative variance at coherence gamma^2 (1 where none
/// was measured), so that a repeat counts once with less noise. None where an earlier measurement
/// of the job stands for this one.
/// @param index  of a receptance in Job::measured
/// Source: variance of a transfer function's estimate, (1 - gamma^2) / (2 n gamma^2), J. S. Bendat
///         and A. G. Piersol, Random Data (from memory).
std::optional<ReceptanceTest> average_with_repeats(const Job& job, std::size_t index);

/// Whether a drive point's receptance has its sign reversed, as of an accelerometer mounted the
/// other way round: where it is large, motion leads the force, which no passive structure does.
bool sign_reversed(const ReceptanceTest& test);

}  // namespace standfast
