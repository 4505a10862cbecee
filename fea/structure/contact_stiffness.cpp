#include "fea/structure/contact_stiffness.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <string>

#include "fea/quantities/require.hpp"

namespace standfast {
namespace {

// G/E at a Poisson's ratio of 0.3.
constexpr double kSlidingPerClosing = 0.385;

constexpr double kMegapascal = 1e6;

/// The row of the contact law nearest to a fixture's ground or finish-milled faces.
constexpr const char* kMachinedFaces = "peripheral ground, Ra 1.0 um";

Source found(const char* text) { return {.text = text, .provenance = Provenance::found}; }

ContactSurfaces cast_iron(std::string_view name, PrintedRange closure, PrintedRange sliding,
                          double closure_exponent = 0.5) {
    return {.name = name,
            .material = "cast iron",
            .closure = closure,
            .closure_exponent = closure_exponent,
            .sliding = sliding,
            .source = found("Ito, Modular Design for Machine Tools (2008), tables 6-2, 6-8, 6-10 "
                            "(Back from Levina and Ostrovskii; 16 cm2 joints)")};
}

ContactSurfaces steel_discs(std::string_view name, double closure, double exponent) {
    return {.name = name,
            .material = "S45C steel",
            .closure = {.least = closure, .most = closure},
            .closure_exponent = exponent,
            .sliding = {},
            .pressure_unit = kMegapascal,
            .source = found("Ito (2008), table 6-5 (Ito and Tsutsumi; flat discs D 50-100 mm)")};
}

std::vector<ContactSurfaces> table() {
    std::vector<ContactSurfaces> rows{
        cast_iron("hand scraped, 20-25 spots/in2, 3-5 um deep", {0.3, 0.3}, {0.39, 0.39}),
        cast_iron("hand scraped, 20-25 spots/in2, 6-8 um deep", {0.5, 0.5}, {0.65, 0.65}),
        cast_iron("hand scraped, 15-18 spots/in2", {0.8, 1.0}, {1.0, 1.3}),
        cast_iron("hand scraped, 10-12 spots/in2", {1.3, 1.5}, {1.7, 2.0}),
        cast_iron("hand scraped, 5-12 spots/in2", {1.5, 2.0}, {2.0, 2.6}),
        cast_iron("hand scraped, 15-18 spots/in2, on ground, Ra 1.0 um", {0.8, 1.0}, {1.0, 1.3},
                  0.4),
        cast_iron("peripheral ground, Ra 1.0 um", {0.6, 0.7}, {0.8, 0.9}),
        cast_iron("finish planed", {0.6, 0.6}, {0.78, 0.78}),
        steel_discs("ground flat discs, Rmax 1.0 um", 0.046, 0.48),
        steel_discs("lapped flat discs, Rmax 1.4 um", 0.045, 0.55)};
    // Its closing row is not in the text that was read: it follows from the sliding one by 1.3.
    rows[7].source = {.text = "Ito (2008), table 6-10; C inferred from R / 1.3",
                      .provenance = Provenance::memory};
    return rows;
}

void require_pressure(double pressure) {
    require_positive(pressure, "contact law", "pressure (Pa)");
    require_between(pressure, 0, kContactPressureLimit, "contact law", "pressure (Pa)");
}

double to_two_steel_faces(const Material& one, const Material& other) {
    Material steel;
    steel.youngs_modulus = 205e9;
    steel.poissons_ratio = 0.29;
    return equivalent_modulus(one, other) / equivalent_modulus(steel, steel);
}

}  // namespace

const std::vector<ContactSurfaces>& contact_surfaces() {
    static const std::vector<ContactSurfaces> rows = table();
    return rows;
}

const ContactSurfaces& contact_surfaces_named(std::string_view name) {
    std::string names;
    for (const ContactSurfaces& row : contact_surfaces()) {
        if (row.name == name) return row;
        names += (names.empty() ? "\"" : ", \"") + std::string(row.name) + "\"";
    }
    throw std::domain_error("contact law: no surfaces \"" + std::string(name) + "\"; there are " +
                            names);
}

ContactStiffness contact_stiffness(const ContactSurfaces& surfaces, double pressure) {
    require_pressure(pressure);
    const double p = pressure / surfaces.pressure_unit;
    const double per_micrometre = surfaces.pressure_unit / 1e-6;
    const double m = surfaces.closure_exponent;
    const double normal = per_micrometre * std::pow(p, 1 - m) / (surfaces.closure.middle() * m);
    if (!surfaces.sliding) return {.normal = normal, .tangential = kSlidingPerClosing * normal};
    const double sliding = std::pow(p, surfaces.sliding_exponent) / surfaces.sliding->middle();
    return {.normal = normal, .tangential = per_micrometre * sliding};
}

ContactStiffness pressed_contact(const ContactStiffness& full, double pressure) {
    require_positive(full.normal, "contact", "normal stiffness per area");
    require_positive(full.tangential, "contact", "tangential stiffness per area");
    require_not_negative(pressure, "contact", "pressure (Pa)");
    // The law grows with the root of the pressure; one figure of it, within its data, says all.
    static const ContactStiffness at_one =
        contact_stiffness(contact_surfaces_named(kMachinedFaces), kMegapascal);
    const double root = std::sqrt(pressure / kMegapascal);
    return {.normal = std::min(root * at_one.normal, full.normal),
            .tangential = std::min(root * at_one.tangential, full.tangential)};
}

double equivalent_modulus(const Material& one, const Material& other) {
    const auto softness = [](const Material& material) {
        require_positive(material.youngs_modulus, "contact", "Young's modulus");
        return (1 - material.poissons_ratio * material.poissons_ratio) / material.youngs_modulus;
    };
    return 1 / (softness(one) + softness(other));
}

double contact_material_factor(const Material& one, const Material& other) {
    return std::sqrt(to_two_steel_faces(one, other));
}

double contact_material_spread(const Material& one, const Material& other) {
    // A power between 0 and 1 lies within 0.4 of its middle in eight of ten cases.
    return std::pow(std::max(to_two_steel_faces(one, other), 1 / to_two_steel_faces(one, other)),
                    0.4);
}

double contact_closure(const ContactSurfaces& surfaces, double pressure) {
    require_pressure(pressure);
    const double p = pressure / surfaces.pressure_unit;
    return 1e-6 * surfaces.closure.middle() * std::pow(p, surfaces.closure_exponent);
}

FaceStiffness face_stiffness(const ContactStiffness& contact, double area, double second_moment_x,
                             double second_moment_y) {
    require_positive(contact.normal, "face_stiffness", "normal stiffness per area");
    require_positive(contact.tangential, "face_stiffness", "tangential stiffness per area");
    require_positive(area, "face_stiffness", "area");
    require_positive(second_moment_x, "face_stiffness", "second moment about x");
    require_positive(second_moment_y, "face_stiffness", "second moment about y");
    const double slide = contact.tangential * area;
    return {.translation = {slide, slide, contact.normal * area},
            .rotation = {contact.normal * second_moment_x, contact.normal * second_moment_y,
                         contact.tangential * (second_moment_x + second_moment_y)}};
}

}  // namespace standfast
