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
    Source source;
};

}  // namespace standfast
