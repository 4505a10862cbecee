#pragma once

#include <Eigen/Core>
#include <vector>

#include "fea/chatter/map/period_map.hpp"

namespace standfast {

/// The motion that a stable cut settles to: the fixed point of the period map with the force of the
/// rigid cut. Equal teeth: what harmonics give (surface_error.hpp), by another way. With runout or
/// unequal pitch teeth follow each other differently, so that what one leaves the next finds: that
/// regeneration, over as many teeth as runout makes miss, is in it. Which tooth meets whose surface
/// is that of the rigid cut.
class SteadyMotion {
public:
    /// @param cut     from prepare_motion
    /// @param margin  see PeriodMap
    /// @throws std::domain_error as PeriodMap, or where the motion has no end (a multiplier of 1)
    SteadyMotion(const PreparedCut& cut, SpindleSpeed speed, double margin = 5);

    /// m, tool minus part, in the coordinates of the motion's basis, with tooth 0's tip at phi
    /// (rad, any turn). Where the force steps there: just before or just after.
    EdgeVector displacement(double phi, bool just_after) const;

    /// m, over the period, looked at about 16 times a vibration of the fastest mode; coordinates.
    EdgeVector peak_to_peak() const;
    EdgeVector mean() const;  ///< m

private:
    EdgeVector in_piece(const CoursePiece& piece, double share) const;

    ModalState modes_;
    double speed_ = 0, angle_ = 0, length_ = 0;  // rad/s, rad, rad
    std::vector<CoursePiece> pieces_;
};

/// State with M x + b = x, M and b the map's; by minimal residuals over a Krylov space, which the
/// few large multipliers make short.
/// @throws std::domain_error where there is none
Eigen::VectorXd steady_state(const PeriodMap& map);

}  // namespace standfast
