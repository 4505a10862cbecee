#pragma once

#include <Eigen/Core>
#include <vector>

#include "fea/cutting/forces.hpp"
#include "fea/quantities/quantities.hpp"
#include "fea/solution/modal_receptance.hpp"

namespace standfast {

/// How a cut is followed in time. Zeros: chosen from the modes and the engagement.
struct MarchSetting {
    int revolutions = 40;
    int steps_per_revolution = 0;  ///< 0: 60 in the fastest vibration and 60 in the cut
    int slices = 0;                ///< of the edge along its height; 0: as fine as the steps
    bool leaves_cut = true;        ///< false: negative chips push back, the linear equation
};

/// What a march saw, step by step; tool minus part, tool axes.
struct March {
    double step = 0;  ///< s
    int steps_per_revolution = 0;
    int teeth = 0;
    bool repeats_by_tooth = true;  ///< false: runout or uneven pitch, the period is a revolution
    EdgeBasis basis = {};          ///< of the coordinates
    std::vector<EdgeVector> coordinates;        ///< m, displacement along the edge
    std::vector<Eigen::Vector3d> displacement;  ///< m, of the tip
    std::vector<Eigen::Vector3d> force;         ///< N, on the tool
    std::vector<double> height;                 ///< m, middles of the slices, from the tip
    std::vector<double> wall_error;  ///< m, at these heights in the last revolution; > 0: too deep
    /// m, of each tooth at these heights likewise, runout included; wall_error is the farthest
    std::vector<std::vector<double>> wall_reach;
};

/// Follows the cut from rest, independently of the Floquet map: modes exact under forces that run
/// linearly through a step, the edge in slices, and the wall itself as the memory: for every slice
/// and angle the farthest that any edge has reached, so that a tooth that leaves the cut, several
/// earlier passes, feed, runout and unequal pitch need no extra rule.
/// Second order in the step; an edge that enters or leaves within a step counts by the part of the
/// step in which it cuts. Teeth of unequal pitch are moved to the nearest step. Process damping is
/// that of the cut's law, in the modes' motion. Along an edge every slice meets the displacement at
/// its own height.
/// @throws std::domain_error if speed, depth, modes or setting are not usable
/// Sources: S. Smith and J. Tlusty, J. Eng. Ind. 113 (1991) 169-175 (idea, memory); process
///          damping as J. Tlusty and F. Ismail, CIRP Annals 30 (1981) (form, memory).
March time_march(const ModalReceptance& receptance, const RigidCut& cut, SpindleSpeed speed,
                 const MarchSetting& setting = {});

/// By what the difference between successive periods grows per tooth period, from its size in two
/// windows of the second half of the march; compare with a Floquet multiplier's magnitude.
double growth_per_tooth(const March& march);

}  // namespace standfast
