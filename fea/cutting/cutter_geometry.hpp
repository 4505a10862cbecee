#pragma once

#include <vector>

#include "fea/job/tool_chain.hpp"

namespace standfast {

/// What the cutting needs to know of a cutter.
struct CutterGeometry {
    double diameter = 0;       ///< m
    double helix = 0;          ///< rad; > 0: the edge lags with height, angle = phi - kappa z
    double corner_radius = 0;  ///< m; diameter / 2: ball
    bool pulled_to_tip =
        true;  ///< sign of the axial force: right-hand helix on a right-hand cutter
    std::vector<double> tooth_angle;  ///< rad, of each tooth after tooth 0, ascending from 0
    std::vector<double> runout;       ///< m, radial offset of each tooth; empty: none
    int teeth() const { return static_cast<int>(tooth_angle.size()); }
    bool evenly_spaced() const;
};

/// From a job's cutter. Runout: an indicator reading r spreads the teeth as r/2 cos(angle), the
/// usual shape of a shifted axis.
CutterGeometry cutter_geometry(const Cutter& cutter);

}  // namespace standfast
