#pragma once

#include <array>
#include <optional>

#include "fea/job/joint.hpp"
#include "fea/quantities/quantities.hpp"
#include "materials/machine_kind.hpp"

namespace standfast {

struct Table {
    bool rigid = false;
    JointNumbers given;          ///< at the middle of the face; rest from the machine kind
    std::optional<double> mass;  ///< kg, moving with the face; none: that of the machine kind
    double diameter = 0;         ///< m, of a round face; 0: unknown, or see block
    std::optional<std::array<double, 2>> block;  ///< m, widths along x, y of a rectangular face
    SpringAdjustment adjusted{};
};

struct SpindleSide {
    bool rigid = false;
    JointNumbers given;  ///< at the gauge line; rest from the spindle kind
    /// What moves with the nose, between the spindle's springs and the taper's: mass, kg; inertia
    /// across the axis about its own centre, kg m^2; centre from the gauge line, m, > 0 into the
    /// spindle. None: that of the spindle kind.
    std::optional<double> mass, inertia, centre;
    bool includes_taper = false;  ///< the figures were taken with a holder in: no taper give added
    double nose_diameter = 0, nose_length = 0;  ///< m, 0: unknown
    SpringAdjustment adjusted{};
};

struct Machine {
    MachineKind kind;          ///< empty name: everything given
    SpindleKind spindle_kind;  ///< empty taper: everything given
    SpindleSpeed slowest, fastest;
    std::optional<double> power;   ///< W, that the spindle gives; none: that of its kind
    std::optional<double> torque;  ///< N m, likewise
    bool table_turns = true;       ///< see MachineKind
    bool rotary_moving = false;
    std::optional<double> tilt_max;         ///< rad
    std::optional<double> carry_max;        ///< kg
    std::optional<double> tilt_moment_max;  ///< N m
    // What the job may say of the machine's room; none: not judged.
    /// m, least and greatest distance from the spindle's gauge line to the table's face at tilt 0
    std::optional<std::array<double, 2>> nose_to_table;
    /// m, height of the tilt axis over the table's face at tilt 0; negative: below it
    std::optional<double> tilt_axis_above_table;
    std::optional<double> swing_diameter;  ///< m, that may turn on the table
    /// m, from the gauge line to the table's face while a tool is changed
    std::optional<double> tool_change_height;
    Table table;
    SpindleSide spindle;
};

}  // namespace standfast
