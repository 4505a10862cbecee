#pragma once

#include <memory>
#include <optional>

#include "fea/chatter/motion/time_march.hpp"
#include "fea/quantities/quantities.hpp"

namespace standfast {

/// How a cut that is followed in time ends up.
enum class MarchOutcome {
    dies_away,        ///< the start-up rings out: every period like the one before
    period_doubling,  ///< every second tooth (with runout: turn) like the last but one
    grows,            ///< no period like another: chatter, bounded by teeth that leave the cut
    undecided         ///< still changing when the march ended
};

/// A pass followed in time at one speed and depth, as it really cuts: teeth that leave the cut,
/// runout, several earlier passes. Vibration and forces are those of the last `settled_over`
/// revolutions.
struct MarchResult {
    SpindleSpeed speed;
    double depth = 0;  ///< m
    MarchOutcome outcome = MarchOutcome::undecided;
    /// By what a small disturbance grows in a tooth period, from a second march whose teeth never
    /// leave the cut and do not run out; none where nothing moves.
    std::optional<double> growth_per_tooth;
    int revolutions = 0, settled_over = 0;
    Eigen::Vector3d peak_to_peak = Eigen::Vector3d::Zero();  ///< m, tool minus part, tool axes
    Eigen::Vector3d peak_force = Eigen::Vector3d::Zero();    ///< N, largest magnitude an axis
    /// m, along March::height, of largest magnitude; none unless the cut settled
    std::optional<double> error;
    std::optional<double> waviness;  ///< m, peak to valley along the feed; none likewise
    std::shared_ptr<const March> march;
};

}  // namespace standfast
