#include "fea/structure/contact_stiffness.hpp"

#include <gtest/gtest.h>

#include <stdexcept>

#include "tests/support/published.hpp"

namespace standfast::test {
namespace {

// Y. Ito, Modular Design for Machine Tools (2008), table 6-2: peripheral ground cast iron, C
// 0.6-0.7 and R 0.8-0.9 (middles 0.65 and 0.85) at 2 MPa, 200 mm x 160 mm; worked out by hand in
// kgf and cm: p = 20.3943, k_n = sqrt(p)/(0.325) = 13.8954 kgf/cm2/um.
TEST(ContactStiffness, GroundCastIronFaceAsWorkedOutByHand) {
    const ContactSurfaces& ground = contact_surfaces_named("peripheral ground, Ra 1.0 um");
    const ContactStiffness k = contact_stiffness(ground, 2e6);
    EXPECT_TRUE(within(k.normal, 1.36267e12, 5e-6));
    EXPECT_TRUE(within(k.tangential, 5.21022e11, 5e-6));
    EXPECT_TRUE(within(contact_closure(ground, 2e6), 2.9354e-6, 2e-5));

    const double b = 0.2;
    const double h = 0.16;
    const FaceStiffness face = face_stiffness(k, b * h, b * h * h * h / 12, h * b * b * b / 12);
    EXPECT_TRUE(within(face.translation.x(), 1.66727e10, 5e-6));
    EXPECT_TRUE(within(face.translation.y(), 1.66727e10, 5e-6));
    EXPECT_TRUE(within(face.translation.z(), 4.36056e10, 5e-6));
    EXPECT_TRUE(within(face.rotation.x(), 9.30252e7, 5e-6));
    EXPECT_TRUE(within(face.rotation.y(), 1.45352e8, 5e-6));
    EXPECT_TRUE(within(face.rotation.z(), 9.11442e7, 5e-6));
}

// Middles of the ranges that the book's coefficients give at 1 and 2.5 MPa, N/m3, three digits
// (a range's two stiffnesses meet at the harmonic mean, as C lies in the denominator).
TEST(ContactStiffness, RowsGiveTheBooksStiffnessPerArea) {
    struct Row {
        const char* name;
        double normal_1, normal_2_5, tangential_1;
    };
    constexpr Row kRows[] = {
        {"hand scraped, 20-25 spots/in2, 3-5 um deep", 2.09e12, 3.30e12, 8.03e11},
        {"hand scraped, 20-25 spots/in2, 6-8 um deep", 1.25e12, 1.98e12, 4.82e11},
        {"finish planed", 1.04e12, 1.65e12, 4.01e11},
        {"ground flat discs, Rmax 1.0 um", 4.53e13, 7.29e13, 0.385 * 4.53e13},
        {"lapped flat discs, Rmax 1.4 um", 4.04e13, 6.10e13, 0.385 * 4.04e13},
    };
    for (const Row& row : kRows) {
        const ContactSurfaces& surfaces = contact_surfaces_named(row.name);
        // Three printed digits: half a unit of the last is 5e-3 at most.
        EXPECT_TRUE(within(contact_stiffness(surfaces, 1e6).normal, row.normal_1, 5e-3))
            << row.name;
        EXPECT_TRUE(within(contact_stiffness(surfaces, 2.5e6).normal, row.normal_2_5, 5e-3))
            << row.name;
        EXPECT_TRUE(within(contact_stiffness(surfaces, 1e6).tangential, row.tangential_1, 5e-3))
            << row.name;
    }
    const ContactSurfaces& rough = contact_surfaces_named("hand scraped, 5-12 spots/in2");
    EXPECT_GT(contact_stiffness(rough, 1e6).normal, 3.13e11);
    EXPECT_LT(contact_stiffness(rough, 1e6).normal, 4.18e11);
    const ContactSurfaces& mixed =
        contact_surfaces_named("hand scraped, 15-18 spots/in2, on ground, Ra 1.0 um");
    EXPECT_GT(contact_stiffness(mixed, 1e6).normal, 9.88e11);
    EXPECT_LT(contact_stiffness(mixed, 1e6).normal, 1.23e12);
}

TEST(ContactStiffness, NormalStiffnessIsTheSlopeOfPressureOverClosure) {
    for (const ContactSurfaces& row : contact_surfaces()) {
        for (const double pressure : {0.1e6, 1e6, 2.4e6}) {
            const double step = 1e-5 * pressure;
            const double slope =
                2 * step /
                (contact_closure(row, pressure + step) - contact_closure(row, pressure - step));
            EXPECT_TRUE(within(contact_stiffness(row, pressure).normal, slope, 1e-6)) << row.name;
        }
    }
}

TEST(ContactStiffness, GrowsWithPressureAndHasASource) {
    for (const ContactSurfaces& row : contact_surfaces()) {
        const ContactStiffness low = contact_stiffness(row, 0.5e6);
        const ContactStiffness high = contact_stiffness(row, 1e6);
        EXPECT_GT(high.normal, low.normal) << row.name;
        EXPECT_GT(high.tangential, low.tangential) << row.name;
        EXPECT_LT(high.tangential, high.normal) << row.name;
        EXPECT_FALSE(row.source.text.empty()) << row.name;
    }
}

TEST(ContactStiffness, RefusesPressuresBeyondItsData) {
    const ContactSurfaces& row = contact_surfaces().front();
    EXPECT_NO_THROW(contact_stiffness(row, kContactPressureLimit));
    EXPECT_THROW(contact_stiffness(row, 2.6e6), std::domain_error);
    EXPECT_THROW(contact_stiffness(row, 0), std::domain_error);
    EXPECT_THROW(contact_stiffness(row, -1e6), std::domain_error);
    EXPECT_THROW(contact_stiffness(row, std::numeric_limits<double>::quiet_NaN()),
                 std::domain_error);
    EXPECT_THROW(contact_closure(row, 3e6), std::domain_error);
    EXPECT_THROW(contact_surfaces_named("licked"), std::domain_error);
}

}  // namespace
}  // namespace standfast::test
