#pragma once

#include <optional>
#include <string>
#include <vector>

#include "materials/source.hpp"

namespace standfast {

/// Table side of a kind of machine, as seen at the middle of the table's face.
struct MachineKind {
    std::string name;  ///< "3-axis", "5-axis, table tilts" ...
    std::vector<std::string> aliases;
    double lateral = 0;      ///< N/m, x and y
    double vertical = 0;     ///< N/m
    double tilting = 0;      ///< N m/rad, about x and y
    double twisting = 0;     ///< N m/rad, about z
    double loss_factor = 0;  ///< -
    double spread = 2;       ///< 10-90 % factor of the stiffness
    double loss_spread = 2;
    std::optional<double> tilt_max;  ///< rad; none: the work side cannot tilt
    /// True where the table tilts and turns under a fixed spindle: then the table's x and y
    /// turn with the stack when a pass tilts or turns.
    bool table_turns = true;
    double table_diameter = 0;  ///< m
    double table_mass = 0;      ///< kg, what moves with the table's face; 0: not counted
    double mass_spread = 1;     ///< 10-90 % factor of the mass
    Source source;
};

/// Spindle side by taper size, as seen at the gauge line without the taper's own give.
struct SpindleKind {
    std::string taper;              ///< name of the taper in the joint catalogue, as in "BT40"
    double lateral = 0, axial = 0;  ///< N/m
    double tilting = 0;             ///< N m/rad
    double twisting = 0;            ///< N m/rad
    double loss_factor = 0;
    double spread = 2;
    double loss_spread = 2;
    double nose_diameter = 0, nose_length = 0;  ///< m
    double mass = 0;                            ///< kg, what moves with the nose; 0: not counted
    double inertia = 0;      ///< kg m^2 of it, across the axis, about its own centre
    double centre = 0;       ///< m, of that mass from the gauge line, > 0 into the spindle
    double mass_spread = 1;  ///< 10-90 % factor of mass and inertia together
    double power = 0;        ///< W, that the spindle gives in use all day; 0: not known
    double torque = 0;       ///< N m, likewise, at low speed
    Source source;
};

}  // namespace standfast
