#pragma once

#include <Eigen/Core>
#include <array>
#include <optional>
#include <string>
#include <vector>

#include "fea/job/shape.hpp"
#include "fea/quantities/quantities.hpp"
#include "materials/cutting_data.hpp"

namespace standfast {

enum class Milling { down, up, slot };

/// The cut tier as it is at that moment.
struct PassState {
    std::optional<SectionShape> shape;
    std::optional<double> height;  ///< m
};

/// One cut: tool, place, engagement.
struct Pass {
    std::string name;
    std::size_t tool = 0;
    std::size_t tier = 0;
    /// m, tool tip along the path, from the tier's foot, tier axes; at least one point. With
    /// modes instead of tiers: empty.
    std::vector<Eigen::Vector3d> path;
    /// The place was not given: the cut's top is the tier's top, and the tip goes down as the cut
    /// grows deeper. Else the tip stays where it is.
    bool from_top = false;
    std::optional<Eigen::Vector3d> wall;  ///< finished wall's outward normal, tier axes, unit
    /// rad, about the tool axis, from the stack's x after tilt and turn; none and no wall: the
    /// worst of all headings
    std::optional<double> feed_heading;
    double tilt = 0, turn = 0;  ///< rad
    CuttingData cutting;
    Milling milling = Milling::down;
    double radial = 0;                                  ///< m
    std::optional<double> axial;                        ///< m; none: "tell me"
    double feed_per_tooth = 0;                          ///< m
    std::optional<SpindleSpeed> speed;                  ///< none: "tell me"
    std::optional<std::array<SpindleSpeed, 2>> speeds;  ///< window the shop is willing to run
    std::optional<double> tolerance;                    ///< m, total
    std::optional<double> leave;  ///< m, stock that a roughing pass should leave
    std::optional<PassState> state;
    std::optional<double> corner_radius;  ///< m, smallest inside corner of the path
    /// How much of the cutting it is: m of path, or a fraction of all that is cut; both none: as
    /// much as any other pass. All passes of a job say it the same way, or none does.
    std::optional<double> length, share;
};

}  // namespace standfast
