#include "fea/structure/section.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <numbers>
#include <stdexcept>

#include "tests/support/published.hpp"

namespace standfast::test {
namespace {

// G. R. Cowper, The shear coefficient in Timoshenko's beam theory, J. Appl. Mech. 33 (1966)
// 335-340, table 1. The values are his formulas worked out to ten digits.
struct CowperRow {
    double nu, circle, rectangle, thin_tube, tube_half, tube_four_fifths, thin_square_box;
};
constexpr CowperRow kCowper[] = {
    {0.0, 0.8571428571, 0.8333333333, 0.5000000000, 0.5882352941, 0.5102443466, 0.4166666667},
    {0.3, 0.8863636364, 0.8496732026, 0.5306122449, 0.6202290076, 0.5410765574, 0.4355108878},
    {0.5, 0.9000000000, 0.8571428571, 0.5454545455, 0.6355932203, 0.5560088203, 0.4444444444}};

TEST(Section, ShearCoefficientsMatchCowper) {
    for (const CowperRow& row : kCowper) {
        EXPECT_TRUE(within(solid_round(0.03, row.nu).shear_coefficient_y, row.circle, 1e-9));
        EXPECT_TRUE(within(rectangle(0.02, 0.05, row.nu).shear_coefficient_z, row.rectangle, 1e-9));
        EXPECT_TRUE(
            within(round_tube(0.06, 0.03, row.nu).shear_coefficient_y, row.tube_half, 1e-9));
        EXPECT_TRUE(
            within(round_tube(0.05, 0.04, row.nu).shear_coefficient_y, row.tube_four_fifths, 1e-9));
        // The wall of a finite tube tends to the thin one with the square of its thickness.
        EXPECT_TRUE(within(round_tube(1, 0.9999, row.nu).shear_coefficient_y, row.thin_tube, 1e-7));
        EXPECT_TRUE(within(rectangular_box(0.1, 0.1, 0.001, row.nu).shear_coefficient_y,
                           row.thin_square_box, 1e-9));
    }
}

TEST(Section, BoxWithoutWidthIsTwoPlatesAndOneWithWideFlangesIsSofterThanItsWebs) {
    const Section deep = rectangular_box(0.2, 0.0005, 1e-5, 0.3);
    EXPECT_TRUE(within(deep.shear_coefficient_y, rectangle(0.2, 0.01, 0.3).shear_coefficient_y,
                       2e-3));  // the flanges are 1/400 of the depth
    // Shear lag in wide flanges takes more than the area that they add.
    const Section wide = rectangular_box(0.2, 0.02, 1e-5, 0.3);
    EXPECT_LT(wide.shear_coefficient_z, 2 * 0.02 * 1e-5 / wide.area);
    EXPECT_GT(wide.shear_coefficient_z, 0);
}

// S. Timoshenko and J. N. Goodier, Theory of Elasticity, table of torsion of rectangular bars:
// J = beta a c^3, three digits as printed (found in the Oasys GSA section reference), and the
// series to six digits.
TEST(Section, RectangleTorsionMatchesTimoshenkoAndGoodier) {
    struct Row {
        double ratio, printed, series;
    };
    constexpr Row kRows[] = {{1, 0.141, 0.140577}, {1.2, 0.166, 0.166119}, {1.5, 0.196, 0.195761},
                             {2, 0.229, 0.228682}, {2.5, 0.249, 0.249365}, {3, 0.263, 0.263317},
                             {4, 0.281, 0.280813}, {5, 0.291, 0.291317},   {10, 0.312, 0.312325}};
    for (const Row& row : kRows) {
        const double c = 0.013;
        const double a = row.ratio * c;
        const double beta = rectangle(a, c, 0.3).torsion_constant / (a * c * c * c);
        EXPECT_TRUE(within(beta, row.printed, 5e-3)) << "a/c = " << row.ratio;  // printed digits
        EXPECT_TRUE(within(beta, row.series, 4e-6)) << "a/c = " << row.ratio;   // six digits
        EXPECT_EQ(rectangle(c, a, 0.3).torsion_constant, rectangle(a, c, 0.3).torsion_constant);
    }
}

// Round tube D 60, d 40 mm: pi (D^4 - d^4) / 32. Box 100 x 80 x 6 mm by Bredt, 4 Am^2 t / perimeter
// (Roark's Formulas for Stress and Strain, table 10.7, from memory; worked out independently).
TEST(Section, HollowTorsionMatchesBredt) {
    EXPECT_TRUE(within(round_tube(0.06, 0.04, 0.3).torsion_constant, 1.02102e-6, 5e-6));
    EXPECT_TRUE(within(rectangular_box(0.1, 0.08, 0.006, 0.3).torsion_constant, 3.45614e-6, 5e-6));
}

TEST(Section, HollowSectionsAreOuterLessInner) {
    const Section outer = rectangle(0.1, 0.08, 0.3);
    const Section inner = rectangle(0.088, 0.068, 0.3);
    const Section box = rectangular_box(0.1, 0.08, 0.006, 0.3);
    EXPECT_TRUE(within(box.area, outer.area - inner.area, 1e-12));
    EXPECT_TRUE(within(box.second_moment_y, outer.second_moment_y - inner.second_moment_y, 1e-12));
    EXPECT_TRUE(within(box.second_moment_z, outer.second_moment_z - inner.second_moment_z, 1e-12));
    const Section tube = round_tube(0.06, 0, 0.3);
    const Section round = solid_round(0.06, 0.3);
    EXPECT_EQ(tube.area, round.area);
    EXPECT_EQ(tube.second_moment_y, round.second_moment_y);
    EXPECT_TRUE(within(tube.shear_coefficient_y, round.shear_coefficient_y, 1e-12));
}

TEST(Section, SecondMomentAboutYIsTheIntegralOfZSquared) {
    const double size_y = 0.02;
    const double size_z = 0.05;
    double sum = 0;
    const int strips = 2000;
    for (int i = 0; i < strips; ++i) {
        const double z = size_z * ((i + 0.5) / strips - 0.5);
        sum += z * z * size_y * size_z / strips;
    }
    EXPECT_TRUE(within(rectangle(size_y, size_z, 0.3).second_moment_y, sum, 1e-6));
}

TEST(Section, RefusesSizesThatAreNotPhysical) {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    EXPECT_THROW(solid_round(0, 0.3), std::domain_error);
    EXPECT_THROW(solid_round(nan, 0.3), std::domain_error);
    EXPECT_THROW(solid_round(0.01, 0.6), std::domain_error);
    EXPECT_THROW(round_tube(0.05, 0.05, 0.3), std::domain_error);
    EXPECT_THROW(round_tube(0.05, -0.01, 0.3), std::domain_error);
    EXPECT_THROW(rectangle(0.02, -0.01, 0.3), std::domain_error);
    EXPECT_THROW(rectangular_box(0.1, 0.08, 0.04, 0.3), std::domain_error);
    EXPECT_THROW(general_section(1e-3, 1e-6, 0, 1e-6, 0.3), std::domain_error);
    try {
        round_tube(0.05, 0.06, 0.3);
        FAIL();
    } catch (const std::domain_error& error) {
        EXPECT_NE(std::string(error.what()).find("outer less inner diameter"), std::string::npos);
    }
}

}  // namespace
}  // namespace standfast::test
