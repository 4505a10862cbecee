#pragma once

#include <Eigen/Core>
#include <vector>

#include "fea/job/job.hpp"
#include "fea/judgement/answer/report.hpp"

namespace standfast {

/// Receptance of both sides at the cut over frequency; m/N, tool axes (feed x).
struct ReceptanceTable {
    std::vector<double> frequency_hertz;  ///< from 0
    std::vector<Eigen::Matrix3cd> tool, work;

    /// tool minus part, which is the sum: G = G_tool + G_work.
    Eigen::Matrix3cd relative(std::size_t i) const { return tool[i] + work[i]; }
};

/// From 0 Hz to at least 5 kHz (further where the fastest tooth passing goes further); step at
/// most a quarter of the half-power width about the peaks of either side and 5 Hz elsewhere.
/// Direct solution where the model allows it. For the heading at which the pass was judged.
ReceptanceTable receptance_table(const Job& job, const PassReport& pass);

}  // namespace standfast
