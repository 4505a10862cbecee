#pragma once

namespace standfast {

/// Cross-section of a straight member, about its principal axes y and z (x runs along it).
struct Section {
    double area = 0;                 ///< m^2
    double second_moment_y = 0;      ///< m^4, integral of z^2: bending in the x-z plane
    double second_moment_z = 0;      ///< m^4, integral of y^2: bending in the x-y plane
    double torsion_constant = 0;     ///< m^4, J (not the polar moment, unless round)
    double shear_coefficient_y = 0;  ///< kappa for shear along y, -
    double shear_coefficient_z = 0;  ///< kappa for shear along z, -
};

/// Solid round. Source: Cowper, J. Appl. Mech. 33 (1966) 335-340, table 1 (formulas from memory,
/// values checked in tests): kappa = 6(1+nu)/(7+6nu).
/// All functions of this header throw std::domain_error on sizes that are not positive and finite.
Section solid_round(double diameter, double poissons_ratio);

/// Round tube. kappa = 6(1+nu)(1+m^2)^2/[(7+6nu)(1+m^2)^2+(20+12nu)m^2], m = inner/outer (Cowper).
/// @throws std::domain_error unless 0 <= inner < outer
Section round_tube(double outer_diameter, double inner_diameter, double poissons_ratio);

/// Solid rectangle, size_y x size_z. kappa = 10(1+nu)/(12+11nu) (Cowper); J by the Fourier series
/// a c^3 [1/3 - (64/pi^5)(c/a) sum tanh(n pi a/2c)/n^5] (Timoshenko & Goodier).
Section rectangle(double size_y, double size_z, double poissons_ratio);

/// Closed rectangular box of one wall thickness; thin-wall Cowper coefficient, J by Bredt on the
/// middle line. Walls up to a quarter of the smaller side; J then is a few percent low.
/// @throws std::domain_error unless wall < half the smaller size
Section rectangular_box(double size_y, double size_z, double wall, double poissons_ratio);

/// A section known by its figures; kappa of a solid rectangle, as the shape is not known.
Section general_section(double area, double second_moment_y, double second_moment_z,
                        double torsion_constant, double poissons_ratio);

}  // namespace standfast
