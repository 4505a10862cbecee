#pragma once

namespace standfast {

// Statics of common holds: what a clamp force can take before something moves. Every capacity
// here is the physical one; the factor that a shop wants over it is a limit (fea/job/limits.hpp).

/// Mean distance (m) of a rectangular face a x b from its centre: friction that resists turning
/// about the face's normal has this lever.
/// [d/2 + a^2/(4b) ln((b + d)/a) + b^2/(4a) ln((a + d)/b)]/3 with d^2 = a^2 + b^2.
/// @throws std::domain_error unless both sizes are positive and finite
/// Source: integral of sqrt(x^2 + y^2) over the rectangle, own derivation; the values in the
///         tests were computed independently.
double mean_lever(double a, double b);

/// The same for a disc: two thirds of its radius.
double mean_lever_of_disc(double diameter);

/// Force that seats a dovetail, per flank and per unit of the horizontal clamp force on that
/// flank: 1/tan(flank + atan friction). Friction on the flank resists the seating.
/// @param flank  rad, from the base; (0, pi/2)
/// Source: equilibrium of the wedge at impending slip; own derivation.
double seating_ratio(double flank, double friction);

/// Vertical force per flank, per unit of horizontal clamp force, that forces a dovetail out past
/// its jaw: 1/tan(flank - atan friction), friction now helping. Infinite (self-locking) where the
/// flank is no steeper than the friction angle.
double pull_out_ratio(double flank, double friction);

/// Preload of one screw from its tightening torque: T / (K d), N.
/// Nut factor K = 0.20 for steel as received, common practice; between dry and oiled it runs from
/// 0.25 to 0.15, so the preload is known within a factor of kPreloadSpread either way.
/// @throws std::domain_error unless both are positive and finite
double screw_preload(double torque, double diameter);

constexpr double kNutFactor = 0.20;
constexpr double kPreloadSpread = 1.25;

/// Two opposed faces that press with one force each and hold by friction.
struct OpposedFaces {
    double force = 0;     ///< N, on each face
    double friction = 0;  ///< -
    double length = 0;    ///< m, of the faces, along the jaw
    double grip = 0;      ///< m, height of the faces
    double width = 0;     ///< m, between the faces
    bool seated = false;  ///< the part bears on something along the faces' lower edges
};

/// Force in the plane of the faces at which the part slips: 2 mu P, N.
double slip_capacity(const OpposedFaces& faces);
/// Moment about the faces' normal that friction holds: 2 mu P mean_lever, N m.
double turning_capacity(const OpposedFaces& faces);
/// The same about a lower corner of the faces: a part that bears on a seat cannot turn about their
/// middle, since one end would have to sink. 2 mu P times the mean distance from a corner, N m.
double turning_capacity_on_seat(const OpposedFaces& faces);
/// Force along the jaw at `height` (m) above the middle of the faces that slips the part, with the
/// linear (safe) interaction F/(2 mu P) + F H/(2 mu P r) <= 1; N.
double slip_capacity_at_height(const OpposedFaces& faces, double height);
/// Moment across the jaws (about the jaw's length) up to which no edge opens, plus the couple of
/// the vertical friction: P g/3 + mu P w, N m. The physical end, with rigid faces, is at
/// P g + mu P w.
double tilt_capacity(const OpposedFaces& faces);

}  // namespace standfast
