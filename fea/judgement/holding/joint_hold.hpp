#pragma once

#include <Eigen/Core>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "fea/judgement/answer/report.hpp"
#include "fea/judgement/holding/clamping.hpp"

namespace standfast {

/// What acts on everything above a joint, in the joint's own axes about its origin (the middle of
/// the face, at the foot of the tier that stands on it). z leads out of the joint.
struct Wrench {
    Eigen::Vector3d force = Eigen::Vector3d::Zero();   ///< N
    Eigen::Vector3d moment = Eigen::Vector3d::Zero();  ///< N m, magnitudes
};

/// A force at a place (both in the joint's axes). The moments of its components are added without
/// regard to sign, |y Fz| + |z Fy| and so on: they do not peak at one moment, and a hold that is
/// saved only by two of them cancelling is not counted as held.
Wrench wrench_of(const Eigen::Vector3d& force, const Eigen::Vector3d& place);
/// The same with the moments of this one instant as they are, |y Fz - z Fy| and so on.
Wrench instant_wrench(const Eigen::Vector3d& force, const Eigen::Vector3d& place);

/// A flat face pressed together by a preload (screws, zero point, a dead weight).
struct PreloadedFace {
    double preload = 0;  ///< N, > 0
    double friction = 0;
    double half_x = 0, half_y = 0;  ///< m, half widths; equal where round
    bool round = false;
};

/// A dovetail along x, its flanks pressed along y, drawn down onto its seat.
struct ClampedDovetail {
    double clamp = 0;  ///< N, horizontal, on each flank
    double friction = 0;
    double flank = 0;   ///< rad
    double length = 0;  ///< m, along x
    double width = 0;   ///< m, neck
};

/// Jaws that press along y on faces along x, whose upper edge is at z = 0.
using ClampedJaws = OpposedFaces;

using Hold = std::variant<PreloadedFace, ClampedDovetail, ClampedJaws>;

/// The section just above a joint, which carries all that acts there.
struct FootSection {
    double area = 0;                      ///< m^2
    double modulus_x = 0, modulus_y = 0;  ///< m^3, section moduli for Mx and My
    double strength = 0;                  ///< Pa, yield
};

/// The first way in which a joint lets go, as a fraction of what is left: 1 where nothing acts,
/// 0 where it is about to go, negative beyond.
struct HoldMargin {
    double margin = 1;
    HoldingMode mode = HoldingMode::slip;
};

/// Preloaded face: slip sqrt(Fx^2 + Fy^2) + |Mz|/lever within mu N; the face lifts where the
/// resultant of its pressure leaves it (lift_off where the axial pull does most of that, tip where
/// the moment does). N is what is left of the preload after axial pull.
///
/// Dovetail: slip along x on flanks and seat; seat lost as for a face of neck width; pull-out of
/// the flank that a side force relieves. The jaw is taken to yield at its clamp force: a screwed
/// jaw that does not give way holds more.
///
/// Jaws: slip and pull-out by friction with the linear interaction; tilt across the jaws in its
/// safe form (P g/3 + mu P w). On a seat it turns about a lower corner of the faces, with the
/// load's moment about that corner; without one about their middle. Source: clamping.hpp; own
/// derivation from textbook statics.
HoldMargin hold_margin(const Hold& hold, const Wrench& wrench);

/// Nominal stress (von Mises; bending, pull, mean shear) at the foot against its strength. No
/// notch factor: a sharp corner at a dovetail's neck can double the stress at its root.
HoldMargin neck_margin(const FootSection& foot, const Wrench& wrench);

/// The largest multiple of `cut`, acting with `own`, that the joint bears; 0 where it does not
/// even bear `own`; at most `up_to`. The mode is what stops it there.
struct LoadFactor {
    double factor = 0;
    HoldingMode mode = HoldingMode::slip;
};
LoadFactor load_factor(const Hold* hold, const FootSection* foot, const Wrench& own,
                       const Wrench& cut, double up_to = kHoldingCap);

}  // namespace standfast
