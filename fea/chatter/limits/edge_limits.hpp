#pragma once

#include <optional>
#include <vector>

#include "fea/chatter/equation/delay_system.hpp"
#include "fea/chatter/limits/depth_scan.hpp"
#include "fea/chatter/limits/stability_limits.hpp"
#include "fea/quantities/quantities.hpp"

namespace standfast {

/// Limits of the delay equation of one system, prepared for many speeds.
///
/// The walk along the depth (limit_search.hpp) is done with the displacement at one height, in the
/// middle of the cut, on the modes that matter to 1e-2 at that depth and with a small corner radius
/// taken as square (square_corner.hpp); its crossing is then put right with the shapes along the
/// edge, the corner, and all modes that matter to 2e-5, by secant steps on period maps. Where that
/// does not settle, or a cut that the middle calls stable is not, the walk is done anew along the
/// edge. Systems of one point, and where islands are asked for, go straight to the walk on all
/// modes. Several threads may call limit() at once.
class EdgeLimits {
public:
    /// @throws std::domain_error if something is not usable
    EdgeLimits(const DelaySystem& system, double searched_to);

    /// @param islands_to  stable depths above the limit are looked for up to so many times it; 1:
    ///                    none are
    SpeedLimit limit(SpindleSpeed speed, double islands_to = 1) const;

private:
    SpeedLimit walked(SpindleSpeed speed, double islands_to) const;
    SpeedLimit along_the_edge(SpindleSpeed speed) const;

    DelaySystem whole_;
    double searched_to_ = 0, start_ = 0;           // m
    std::optional<SystemsByDepth> edge_, middle_;  // along the edge and in its middle
};

/// The same at all speeds, worked on in parallel.
StabilityLimits edge_limits(const DelaySystem& system, const std::vector<SpindleSpeed>& speeds,
                            double searched_to, double islands_to = 1);

/// The displacement in the middle of the cut for the whole edge.
DelaySystem in_the_middle(const DelaySystem& system);

}  // namespace standfast
