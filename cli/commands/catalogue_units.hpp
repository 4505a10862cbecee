#pragma once

#include <string_view>

#include "materials/units.hpp"

namespace standfast {

/// The units in which catalogue figures are shown; all of them can be typed back into a job.
struct CatalogueUnits {
    std::string_view modulus, strength, density, specific_force, edge_force, surface_speed;
    std::string_view stiffness, angular_stiffness, stiffness_per_area, force, length;
    std::string_view mass, inertia, power, torque;
};

inline CatalogueUnits catalogue_units(UnitSystem system) {
    if (system == UnitSystem::inch) {
        return {"Msi",     "ksi", "lb/in3", "ksi", "lbf/in", "sfm", "lbf/thou", "ft lb/mrad",
                "lbf/in3", "lbf", "in",     "lb",  "lb in2", "hp",  "ft lb"};
    }
    return {"GPa",      "MPa", "kg/m3", "N/mm2", "N/mm",  "m/min", "N/um", "kN m/mrad",
            "N/um/mm2", "kN",  "mm",    "kg",    "kg m2", "kW",    "N m"};
}

}  // namespace standfast
