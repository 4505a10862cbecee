#pragma once

#include <optional>
#include <string>
#include <vector>

#include "materials/source.hpp"

namespace standfast {

/// Isotropic elastic material at room temperature.
struct Material {
    std::string name;                  ///< full name, as in "aluminium 6061-T6"
    std::vector<std::string> aliases;  ///< short names it answers to, as in "6061"
    double youngs_modulus = 0;         ///< Pa
    double poissons_ratio = 0;         ///< -
    double density = 0;                ///< kg/m^3
    double loss_factor = 0;            ///< -, energy lost per radian over peak strain energy
    double modulus_spread = 1.02;      ///< 10-90 % factor: 90 % quantile / median, >= 1
    double loss_spread = 3;            ///< 10-90 % factor of the loss factor
    std::optional<double> strength;    ///< Pa; yield, or transverse rupture for hard metals
    std::string cutting;               ///< name of its default cutting data; empty: none
    Source source;
};

/// Shear modulus E / (2 (1 + nu)), Pa.
inline double shear_modulus(const Material& material) {
    return material.youngs_modulus / (2 * (1 + material.poissons_ratio));
}

}  // namespace standfast
