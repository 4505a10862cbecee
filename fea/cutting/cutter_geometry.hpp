#pragma once

#include <vector>

#include "fea/job/tool_chain.hpp"

namespace standfast {

/// What the cutting needs to know of a cutter. Tooth j follows tooth 0: with the tip of tooth 0 at
/// phi, that of tooth j is at phi - tooth_angle[j].
struct CutterGeometry {
    double diameter = 0;        ///< m
    double helix = 0;           ///< rad; > 0: the edge lags with height, angle = phi - kappa z
    double corner_radius = 0;   ///< m; diameter / 2: ball
    bool pulled_to_tip = true;  ///< sign of the axial force; false: the helix pushes it up
    std::vector<double> tooth_angle;  ///< rad, of each tooth behind tooth 0, ascending from 0
    std::vector<double> runout;       ///< m, radial offset of each tooth; empty: none
    int teeth() const { return static_cast<int>(tooth_angle.size()); }
    bool evenly_spaced() const;
    bool runs_out() const;  ///< some tooth has a radial offset
};

/// From a job's cutter. `pitch` holds the angle from each tooth to the one behind it. Runout: an
/// indicator reading r (full travel) spreads the teeth as r/2 cos(angle), the usual shape of a
/// shifted axis. The angle of a tooth grows with rotation whichever way the spindle turns, so what
/// matters is whether helix and cutter are of one hand: right_hand = false, or a negative helix,
/// stands for the helix of the other hand, whose edge leads with height and is pushed up.
/// @throws std::domain_error unless 1 tooth or more, D > 0, |helix| < 80 deg, 0 <= corner radius
///         <= D/2, runout >= 0, and pitches (one a tooth, > 0) that add up to 2 pi within 1e-3
CutterGeometry cutter_geometry(const Cutter& cutter);

}  // namespace standfast
