#pragma once

#include <Eigen/Core>
#include <optional>
#include <string_view>
#include <vector>

#include "materials/material.hpp"
#include "materials/source.hpp"

namespace standfast {

/// Pressure up to which the tests behind the contact laws went (25 kgf/cm^2), Pa.
constexpr double kContactPressureLimit = 2.5e6;

/// A coefficient as its table prints it: one figure, or the ends of a range.
struct PrintedRange {
    double least = 0, most = 0;
    double middle() const { return (least + most) / 2; }
};

/// How a pair of machined faces closes and slides under pressure. With p in `pressure_unit`:
///
///     closure, um            delta = C p^m     so  k_n = dp/d(delta) = p^(1-m) / (C m)
///     sliding, unit per um   k_s = p^S / R
///
/// Source: Y. Ito, Modular Design for Machine Tools (2008), tables 6-2, 6-5, 6-8, 6-10, after
/// Levina, Ostrovskii, Back, Burdekin, Cowley and Tsutsumi. The excerpt does not print the unit of
/// C; um and kgf/cm^2 follow from its pressure limit and curves.
struct ContactSurfaces {
    std::string_view name;
    std::string_view material;
    PrintedRange closure;                 ///< C
    double closure_exponent = 0.5;        ///< m
    std::optional<PrintedRange> sliding;  ///< R; none: not measured
    double sliding_exponent = 0.5;        ///< S
    double pressure_unit = 98066.5;       ///< Pa
    Source source;
};

/// All rows of the tables.
const std::vector<ContactSurfaces>& contact_surfaces();

/// The row of a name. @throws std::domain_error listing the names
const ContactSurfaces& contact_surfaces_named(std::string_view name);

/// Stiffness per area of a joint's face, N/m^3.
struct ContactStiffness {
    double normal = 0, tangential = 0;
};

/// Tangent stiffness under a mean pressure (Pa), with the middle of each printed range. Where
/// sliding was not measured: 0.385 of the normal, the ratio G/E that every row with m = 0.5 shows.
///
/// These faces were small and flat, or scraped and ground with care. Flatness governs a shop's
/// joints: integrated over a whole footprint the law makes joints up to ten times too stiff, so
/// use it over the zone really clamped and below the catalogue's upper bound.
/// @throws std::domain_error unless 0 < pressure <= kContactPressureLimit
ContactStiffness contact_stiffness(const ContactSurfaces& surfaces, double pressure);

/// Tangent stiffness of a fixture's faces under any pressure: the law of ground faces ("peripheral
/// ground, Ra 1.0 um") while it is below `full`, held at `full` from there on. Nothing at no
/// pressure, never less for more, without a jump.
/// @param full  N/m^3, of the two faces when pressed hard; both positive
/// @throws std::domain_error unless pressure (Pa) >= 0
/// Source: the law as above; what faces reach is judgement inside bounds computed with solid models
///         (materials/data/joints.toml).
ContactStiffness pressed_contact(const ContactStiffness& full, double pressure);

/// E* of two bodies that touch, Pa: 1/E* = sum (1 - nu^2)/E.
/// Source: Hertz, as in every textbook of contact mechanics.
double equivalent_modulus(const Material& one, const Material& other);

/// Factor on a contact that is stated for two steel faces (205 GPa, 0.29): the ratio of the
/// equivalent moduli to the power 0.5. The power is not known within 0 and 1: with smooth faces it
/// is 1 (bolted joints, modal tests: Xiao et al. 2014, abstract), with a film of oxide, oil or
/// chips nearer to 0.
double contact_material_factor(const Material& one, const Material& other);
/// 10-90 % factor that comes of it with a power drawn evenly between 0 and 1.
double contact_material_spread(const Material& one, const Material& other);

/// Closure under a mean pressure, m. Throws as contact_stiffness.
double contact_closure(const ContactSurfaces& surfaces, double pressure);

/// Springs of a face that stays closed everywhere, in its own axes (z normal).
struct FaceStiffness {
    Eigen::Vector3d translation;  ///< N/m along x, y, z: k_s A, k_s A, k_n A
    Eigen::Vector3d rotation;     ///< N m/rad about x, y, z: k_n Ix, k_n Iy, k_s (Ix + Iy)
};

/// @param second_moment_x  m^4, integral of y^2 (tilting about x); _y likewise
/// @throws std::domain_error if a figure is not positive and finite
FaceStiffness face_stiffness(const ContactStiffness& contact, double area, double second_moment_x,
                             double second_moment_y);

}  // namespace standfast
