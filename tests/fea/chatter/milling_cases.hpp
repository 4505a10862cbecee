#pragma once

#include <cmath>
#include <numbers>
#include <vector>

#include "fea/chatter/equation/delay_system.hpp"
#include "fea/cutting/forces.hpp"
#include "fea/solution/modal_receptance.hpp"

namespace standfast::reference {

/// A mode as tables give it: stiffness for unit displacement along (ux, uy), tool minus part.
struct TabledMode {
    double hertz, damping, stiffness, ux, uy;
};

inline ModalReceptance receptance_of(const std::vector<TabledMode>& modes) {
    ModalReceptance receptance;
    for (const TabledMode& mode : modes) {
        const AngularFrequency w = AngularFrequency::from_hertz(mode.hertz);
        const double mass = mode.stiffness / std::pow(w.radians_per_second, 2);
        receptance.terms.push_back(
            {w, mode.damping, Eigen::Vector3d(mode.ux, mode.uy, 0) / std::sqrt(mass)});
    }
    return receptance;
}

/// Flexible tool and flexible part stack with one skewed mode; own numbers.
inline std::vector<TabledMode> case_m1_modes() {
    return {{780, 0.035, 2.2e7, 1, 0},    {1650, 0.022, 9.0e6, 1, 0}, {745, 0.038, 1.9e7, 0, 1},
            {1590, 0.024, 8.2e6, 0, 1},   {355, 0.030, 3.1e7, 1, 0},  {310, 0.028, 2.6e7, 0, 1},
            {905, 0.018, 3.4e7, 0.6, 0.8}};
}

inline CutterGeometry even_cutter(int teeth, double diameter, double helix_degrees = 0) {
    CutterGeometry cutter;
    cutter.diameter = diameter;
    cutter.helix = helix_degrees * std::numbers::pi / 180;
    for (int tooth = 0; tooth < teeth; ++tooth)
        cutter.tooth_angle.push_back(2 * std::numbers::pi * tooth / teeth);
    return cutter;
}

}  // namespace standfast::reference
