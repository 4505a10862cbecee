#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "materials/source.hpp"

namespace standfast {

/// Linear-edge force coefficients: force per edge length = K_c h + K_e.
struct MechanisticForces {
    double tangential = 0, radial = 0, axial = 0;                 ///< Pa (N/m^2)
    double tangential_edge = 0, radial_edge = 0, axial_edge = 0;  ///< N/m
    /// The set has no edge forces of its own: those above are the median of its neighbours.
    bool edge_from_neighbours = false;
};

/// Kienzle law k_c = kc11 (h / 1 mm)^-mc, with force ratios to the tangential one.
struct KienzleForces {
    double kc11 = 0;          ///< Pa, specific force at a chip of 1 mm
    double exponent = 0;      ///< mc, -
    double radial_ratio = 0;  ///< radial / tangential, -
    double axial_ratio = 0;   ///< axial / tangential, -
};

/// What a work material asks of a cutter. At least one of the two laws is present; where both
/// are, the mechanistic one is preferred (thin chips are its domain).
struct CuttingData {
    std::string name;
    std::vector<std::string> aliases;
    std::optional<MechanisticForces> mechanistic;
    std::optional<KienzleForces> kienzle;
    std::optional<std::array<double, 2>> cutting_speed;  ///< m/s, lower and upper end of the window
    double spread = 1.25;                                ///< 10-90 % factor of the coefficients
    std::optional<double> process_damping;               ///< N/m; rubbing of the flank, see chatter
    /// It is that of the material's group: good to a factor of 3, of a fresh edge a tenth.
    bool process_damping_of_group = false;
    Source source;
};

}  // namespace standfast
