#include "fea/cutting/cutting_law.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

namespace standfast {
namespace {

CuttingData kienzle(double kc11, double exponent) {
    CuttingData data;
    data.name = "by Kienzle";
    data.kienzle =
        KienzleForces{.kc11 = kc11, .exponent = exponent, .radial_ratio = 0.4, .axial_ratio = 0.2};
    return data;
}

/// A slot whose mean chip is `chip`.
double feed_for(double chip) { return chip * std::numbers::pi / 2; }
const Engagement slot{0, std::numbers::pi, Milling::slot};

TEST(CuttingLaw, SpecificForceAtFiveHundredthsOfAMillimetreMatchesTabledNumbers) {
    // kc1.1 and mc of 42CrMo4 (W. Koenig and F. Klocke, from memory) and of VDI 3323 groups 8, 22
    // and 37 (a cutting-tool maker's turning catalogue, 2017); kc at h = 0.05 mm in N/mm^2 computed
    // outside this code.
    struct Row {
        double kc11, exponent, specific_force;
    };
    for (const Row& row : {Row{2500, 0.26, 5447.63}, Row{1725, 0.24, 3540}, Row{800, 0.25, 1692},
                           Row{2110, 0.22, 4079}}) {
        const CuttingLaw law =
            cutting_law(kienzle(row.kc11 * 1e6, row.exponent), slot, feed_for(0.05e-3));
        const double chip = 0.05e-3;
        const double force = law.tangential * chip + law.tangential_edge;
        EXPECT_NEAR(force / chip, row.specific_force * 1e6, 0.5e6 + 1e-6 * force / chip);
        EXPECT_NEAR(law.chip, chip, 1e-15);
    }
    // The slope, (1 - mc) kc, of the first: 4031.25 N/mm^2.
    EXPECT_NEAR(cutting_law(kienzle(2500e6, 0.26), slot, feed_for(0.05e-3)).tangential, 4031.25e6,
                0.01e6);
}

TEST(CuttingLaw, IsTheTangentOfKienzlesCurve) {
    const double kc11 = 1800e6, exponent = 0.25;
    const auto curve = [&](double chip) {  // N per m of edge
        return kc11 * std::pow(chip / 1e-3, -exponent) * chip;
    };
    const CuttingLaw law = cutting_law(kienzle(kc11, exponent), slot, feed_for(0.08e-3));
    const double step = 1e-8;
    EXPECT_NEAR((curve(0.08e-3 + step) - curve(0.08e-3 - step)) / (2 * step), law.tangential,
                1e-6 * law.tangential);
    EXPECT_NEAR(curve(0.08e-3), law.tangential * 0.08e-3 + law.tangential_edge,
                1e-9 * curve(0.08e-3));
    for (const double chip : {0.01e-3, 0.05e-3, 0.2e-3})  // a concave curve lies below it
        EXPECT_LE(curve(chip), law.tangential * chip + law.tangential_edge);
    EXPECT_NEAR(law.radial, 0.4 * law.tangential, 1e-6);
    EXPECT_NEAR(law.axial_edge, 0.2 * law.tangential_edge, 1e-9);
}

TEST(CuttingLaw, BelowThreeHundredthsTheTangentStaysAndTheSpreadWidens) {
    const CuttingData data = kienzle(1800e6, 0.25);
    const CuttingLaw at = cutting_law(data, slot, feed_for(0.03e-3));
    const CuttingLaw below = cutting_law(data, slot, feed_for(0.0075e-3));
    EXPECT_NEAR(below.tangential, at.tangential, 1e-9 * at.tangential);
    EXPECT_NEAR(below.chip, 0.03e-3, 1e-18);
    EXPECT_NEAR(at.spread, 1.25, 1e-9);
    EXPECT_NEAR(below.spread, 1.25 * 1.25, 1e-9);  // a quarter of the chip: squared
    EXPECT_LT(cutting_law(data, slot, 0).spread, 3.1);
}

TEST(CuttingLaw, PrefersTheMechanisticSet) {
    // Al 7075, carbide, dry: review table 5, Chin. J. Mech. Eng. 2021, its reference 47.
    CuttingData data = kienzle(800e6, 0.25);
    data.mechanistic = MechanisticForces{1319.41e6, 788.83e6, 48.75e6, 19.65e3, 26.77e3, 2.05e3};
    const CuttingLaw law = cutting_law(data, slot, 0.01e-3);
    EXPECT_EQ(law.tangential, 1319.41e6);
    EXPECT_EQ(law.radial, 788.83e6);
    EXPECT_EQ(law.axial, 48.75e6);
    EXPECT_EQ(law.tangential_edge, 19.65e3);
    EXPECT_EQ(law.radial_edge, 26.77e3);
    EXPECT_EQ(law.axial_edge, 2.05e3);
    EXPECT_EQ(law.chip, 0);
    EXPECT_EQ(law.spread, data.spread);
}

TEST(CuttingLaw, WithoutAnyCoefficientsNamesTheData) {
    CuttingData data;
    data.name = "unobtainium";
    try {
        cutting_law(data, slot, 1e-4);
        FAIL() << "no error";
    } catch (const std::domain_error& error) {
        EXPECT_NE(std::string(error.what()).find("unobtainium"), std::string::npos);
    }
}

}  // namespace
}  // namespace standfast
