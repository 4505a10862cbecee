#pragma once

#include <Eigen/Core>
#include <cstddef>
#include <optional>
#include <vector>

#include "fea/chatter/equation/delay_system.hpp"
#include "fea/quantities/quantities.hpp"

namespace standfast {

/// The largest multiplier at one depth, as ln of its magnitude, and how far to look next.
struct ScanPoint {
    double depth = 0;   ///< m
    double growth = 0;  ///< per tooth period; < 0: stable
    /// Relative step within which no multiplier should leave and re-enter the unit circle, judged
    /// by how far each has moved from where free vibration has it.
    double step = 0;
    Eigen::VectorXd motion = {};    ///< real part of the growing motion, as the map has it
    AngularFrequency leading = {};  ///< of the mode that moves most in it
};

/// One system as it is worked with up to several depths, the shallower ones with fewer modes.
class SystemsByDepth {
public:
    /// As without_slight_modes with a gain, for depths halved from `deepest` to `shallowest`, m.
    SystemsByDepth(const DelaySystem& system, double share, double least_gain, double shallowest,
                   double deepest);
    /// For a depth, m; beyond the deepest as there.
    const DelaySystem& at(double depth) const;
    const DelaySystem& deepest() const { return systems_.back().system; }

private:
    struct UpTo {
        double depth = 0;
        DelaySystem system;
    };
    std::vector<UpTo> systems_;  // shallow ones first
};

/// A walk along the depth at one spindle speed, on maps of one margin (see PeriodMap).
struct DepthScan {
    const DelaySystem* system;
    SpindleSpeed speed;
    double margin = 2;
    double tolerance = 1e-3;  ///< residual of the multiplier
    double resolved_to = 0;   ///< m, depth at which the margin was last found to do
    const SystemsByDepth* by_depth = nullptr;  ///< where given, in the place of `system`

    /// @param motion  of a point nearby, from which its multiplier is found sooner, though another
    ///                that has overtaken it may then be missed; empty: none
    ScanPoint at(double depth, const Eigen::VectorXd& motion = {}) const;
};

/// Two depths between which the growth changes sign.
struct Bracket {
    ScanPoint low, high;
};

/// Depth, m, below which the averaged loop gain at the peaks of the receptance leaves every speed
/// stable; by the receptance in the middle of a cut of `shape_depth` (m).
double depth_stable_anywhere(const DelaySystem& system, double shape_depth);

/// A depth to start from: 0.7 of what the mean loop gain leaves stable at any speed, halved while
/// the multiplier says otherwise.
ScanPoint stable_start(const DepthScan& scan, double searched_to);

/// The given depth, halved while the multiplier says that it is unstable.
ScanPoint stable_from(const DepthScan& scan, double depth);

/// Walks upward to the first change of sign, up to searched_to. Where the growth peaks just below
/// zero the walk looks closer; where it nears zero the margin is raised until the growth settles.
std::optional<Bracket> next_change(DepthScan& scan, ScanPoint from, double searched_to);

}  // namespace standfast
