#pragma once

#include <optional>

#include "fea/job/joint.hpp"
#include "fea/quantities/quantities.hpp"
#include "materials/machine_kind.hpp"

namespace standfast {

struct Table {
    bool rigid = false;
    JointNumbers given;   ///< at the middle of the face; rest from the machine kind
    double mass = 0;      ///< kg, moving with the face
    double diameter = 0;  ///< m
};

struct SpindleSide {
    bool rigid = false;
    JointNumbers given;           ///< at the gauge line; rest from the spindle kind
    bool includes_taper = false;  ///< the figures were taken with a holder in: no taper give added
    double nose_diameter = 0, nose_length = 0;  ///< m, 0: unknown
};

struct Machine {
    MachineKind kind;          ///< empty name: everything given
    SpindleKind spindle_kind;  ///< empty taper: everything given
    SpindleSpeed slowest, fastest;
    bool table_turns = true;  ///< see MachineKind
    bool rotary_moving = false;
    std::optional<double> tilt_max;         ///< rad
    std::optional<double> carry_max;        ///< kg
    std::optional<double> tilt_moment_max;  ///< N m
    Table table;
    SpindleSide spindle;
};

}  // namespace standfast
