#pragma once

#include <array>
#include <optional>
#include <string>

#include "materials/joint_kind.hpp"

namespace standfast {

/// Numbers given outright for a joint, table, spindle or support. What is left out follows from
/// the kind. Lateral along, tilting about the joint's own x, y; vertical along its axis.
struct JointNumbers {
    std::optional<std::array<double, 2>> lateral;  ///< N/m
    std::optional<double> vertical;                ///< N/m
    std::optional<std::array<double, 2>> tilting;  ///< N m/rad
    std::optional<double> twisting;                ///< N m/rad
    std::optional<double> loss;                    ///< loss factor, -
    bool told_apart = false;                       ///< x and y were given each by itself
};

/// What `fit` found out about springs given by figures: table, spindle, support.
struct SpringAdjustment {
    double stiffness = 1, loss = 1;                       ///< factors
    std::optional<double> stiffness_spread, loss_spread;  ///< 10-90 % factors
};

/// Screws that pull a joint together; preload (of the whole joint) wins over torque.
struct Screws {
    int count = 0;
    double diameter = 0;           ///< m, nominal thread
    std::optional<double> torque;  ///< N m each
    std::optional<double> circle;  ///< m, diameter of the circle they stand on
};

/// A dovetail along the joint's x axis.
struct Dovetail {
    double length = 0;            ///< m, along x
    double width = 0;             ///< m, neck: the smallest width, along y
    double flank = 0;             ///< rad, flank angle from the base (a 60 deg cutter is 60 deg)
    double depth = 0;             ///< m, height of the tail
    std::optional<double> clamp;  ///< N, horizontal force on each flank
    /// The part's underside is drawn down onto the jaw's face, or hangs in its flanks alone;
    /// none: not known
    std::optional<bool> seat;
};

/// Two opposed jaw faces, pressing along the joint's y axis (vice, soft jaws, toe clamps ...).
struct Jaws {
    double length = 0;            ///< m, along x
    double width = 0;             ///< m, across the jaws: the held width of the tier, along y
    double grip = 0;              ///< m, height of the gripped strip
    std::optional<double> clamp;  ///< N, force on each face
    std::optional<bool> seat;     ///< the part bears on parallels or steps; none: not known
};

/// How a tier stands on what is below it, or how a taper or grip holds.
struct Joint {
    bool solid = false;  ///< one piece with what is below: no give
    JointKind kind;      ///< catalogue row; empty name: numbers only
    JointNumbers given;
    std::optional<double> preload;  ///< N, whole joint
    std::optional<Screws> screws;
    std::optional<Dovetail> dovetail;
    std::optional<Jaws> jaws;
    std::optional<double> friction;  ///< -, else that of the kind
    /// Extra factor on stiffness and loss, written by `fit` (overlay), with its own spread.
    double stiffness_adjust = 1, loss_adjust = 1;
    std::optional<double> stiffness_spread, loss_spread;  ///< 10-90 % factors instead of the kind's
    /// "riser joint": spread groups of its own, apart from others of its kind; empty: of its kind
    std::string measured_as;
};

}  // namespace standfast
