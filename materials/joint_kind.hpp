#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "materials/source.hpp"

namespace standfast {

/// What the stiffness figures of a joint kind are figures of.
enum class JointScaling {
    per_area,  ///< N/m^3 of contact area; moments follow from the footprint's second moments
    absolute,  ///< N/m and N m/rad of the whole joint (tapers by size)
    /// N/m and N m/rad at a 16 mm shank: lateral and axial grow with d, tilting and twisting
    /// with d^3 (grips)
    per_shank
};

/// Where a joint kind may be used.
enum class JointUse { stack, taper, grip };

/// One row of the joint catalogue: a median joint of its kind and how far such joints scatter.
struct JointKind {
    std::string name;  ///< "bolted", "dovetail", "BT40", "shrink" ...
    std::vector<std::string> aliases;
    JointUse use = JointUse::stack;
    JointScaling scaling = JointScaling::per_area;
    double lateral = 0;      ///< along the faces; N/m^3 or N/m
    double vertical = 0;     ///< normal to the faces (axial of a tool); N/m^3 or N/m
    double tilting = 0;      ///< N m/rad; unused where scaling is per_area
    double twisting = 0;     ///< N m/rad; unused where scaling is per_area
    double loss_factor = 0;  ///< -
    double spread = 2;       ///< 10-90 % factor of every stiffness
    double loss_spread = 2;  ///< 10-90 % factor of the loss factor
    /// 10-90 % factor where nobody says how hard the joint is pressed, or whether a seat bears
    double unknown_spread = 2;
    /// N/m^3 of the zone really clamped, between two steel faces that are pressed hard: normal to
    /// the faces and along them; 0: not known, the figures per footprint serve
    double contact_normal = 0, contact_tangential = 0;
    double bearing = 1;       ///< share of a face that bears where it is pressed as a whole
    double upper_factor = 3;  ///< no computed stiffness may exceed upper_factor x the median
    double friction = 0.15;   ///< -, for holding
    /// N; clamp assumed for stiffness only where the job names none (0: the kind needs none)
    double assumed_clamp = 0;
    /// m, least and greatest diameter that such grips hold (grips)
    std::optional<std::array<double, 2>> holds;
    bool on_pilot = false;              ///< carries a bored cutter on its pilot and face (grips)
    std::optional<double> speed_limit;  ///< rad/s, makers' usual limit (tapers)
    std::optional<double> flange_diameter, gauge_diameter, draw_force;  ///< m, m, N (tapers)
    Source source;
};

}  // namespace standfast
