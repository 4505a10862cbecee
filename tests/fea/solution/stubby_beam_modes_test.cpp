#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "fea/solution/modes.hpp"
#include "fea/solution/statics.hpp"
#include "fea/structure/assembly.hpp"
#include "tests/support/beams.hpp"
#include "tests/support/published.hpp"

namespace standfast::test {
namespace {

TestBeam square_bar(double length, int elements) {
    return {.section = rectangle(0.05, 0.05, 0.3),
            .material = isotropic(210e9, 0.3, 7850),
            .length = length,
            .elements = elements};
}

struct StubbyRow {
    double slenderness;
    std::vector<double> hertz;
};

// T. C. Huang, J. Appl. Mech. 28 (1961) 579-584, frequency equation of the Timoshenko cantilever,
// solved with an exact transfer matrix; square 50 mm, E 210 GPa, nu 0.3, Cowper's coefficient.
const std::vector<StubbyRow> kHuang{{3, {1715.84738, 7840.067464, 17177.75831, 26390.76377}},
                                    {5, {648.4992436, 3498.875367, 8339.266052, 13859.88557}},
                                    {10, {165.8076489, 994.352214, 2617.29853, 4751.616692}},
                                    {20, {41.69400189, 258.2920996, 710.3655941, 1357.874724}}};

TEST(StubbyBeamModes, CantileversMatchHuang) {
    for (const StubbyRow& row : kHuang) {
        const auto model = cantilever(square_bar(row.slenderness * 0.05, 120));
        const auto found = modes(assemble(model), 20);
        const std::vector<double> hertz = bending_pairs(found);
        ASSERT_GE(hertz.size(), 4U);
        for (std::size_t i = 0; i < 4; ++i) {
            // 120 elements at L/h = 3 leave 2e-4 in the fourth mode: order 2 in their length.
            EXPECT_TRUE(within(hertz[i], row.hertz[i], 3e-4))
                << "L/h = " << row.slenderness << ", mode " << i + 1;
        }
    }
}

TEST(StubbyBeamModes, FourElementsAMemberAreEnoughForTheFirstTwo) {
    for (const StubbyRow& row : kHuang) {
        const auto found = modes(assemble(cantilever(square_bar(row.slenderness * 0.05, 4))), 12);
        const std::vector<double> hertz = bending_pairs(found);
        EXPECT_TRUE(within(hertz.at(0), row.hertz[0], 1e-3)) << "L/h = " << row.slenderness;
        EXPECT_TRUE(within(hertz.at(1), row.hertz[1], 1.6e-2)) << "L/h = " << row.slenderness;
    }
}

/// log2 of the ratio of errors as the elements are halved.
double order(double slenderness, const std::vector<double>& exact, std::size_t mode, int elements) {
    const auto error = [&](int count) {
        const auto model = cantilever(square_bar(slenderness * 0.05, count));
        const auto hertz = bending_pairs(modes(assemble(model), 14));
        return std::abs(hertz.at(mode) / exact[mode] - 1);
    };
    return std::log2(error(elements) / error(2 * elements));
}

TEST(StubbyBeamModes, ErrorFallsAtLeastWithTheSquareOfTheElementLength) {
    EXPECT_NEAR(order(3, kHuang[0].hertz, 0, 8), 2, 0.2);
    EXPECT_NEAR(order(5, kHuang[1].hertz, 1, 8), 2, 0.3);
    EXPECT_GT(order(20, kHuang[3].hertz, 1, 8), 1.7);
}

// Timoshenko beam between simple supports, closed form as in code_aster V2.04.302 (D. Robert,
// Samtech report 121, 1996); length 0.5 m.
TEST(StubbyBeamModes, SimplySupportedMatchesTheClosedForm) {
    StructureModel model = free_beam(square_bar(0.5, 80));
    constexpr double kRigid = 1e13;
    add_springs(model, "pin", 0, {kRigid, kRigid, kRigid}, {0, 0, 1e9});
    add_springs(model, "pin", 1, {kRigid, kRigid, 0}, {0, 0, 0});
    const auto hertz = bending_pairs(modes(assemble(model), 20));
    expect_list(hertz, {461.4701241, 1764.542001, 3720.504069, 6130.056995}, 5e-4, "pinned");
}

TestBeam round_rod(int elements = 60) {
    return {.section = solid_round(0.03, 0.29),
            .material = isotropic(205e9, 0.29, 7850),
            .length = 0.8,
            .elements = elements};
}

// Blevins, tables 8-16 and 8-19 (from memory, recomputed): (2n - 1) c / (4 L) and n c / (2 L).
TEST(StubbyBeamModes, RodsStretchAndTwistAsBlevinsSays) {
    const auto held = modes(assemble(cantilever(round_rod())), 40);
    // (2n - 1)^2 of the 60-element mesh: 7e-4 for the third.
    expect_list(frequencies_along(held, kAxial), {1596.95296, 4790.858881, 7984.764802}, 1e-3,
                "axial, fixed-free");
    expect_list(frequencies_along(held, kTorsion), {994.2194862, 2982.658459, 4971.097431}, 1e-3,
                "torsion, fixed-free");
    const auto free = modes(assemble(free_beam(round_rod())), 46);
    auto axial = frequencies_along(free, kAxial);
    axial.erase(axial.begin(),
                std::find_if(axial.begin(), axial.end(), [](double hertz) { return hertz > 1; }));
    expect_list(axial, {3193.905921, 6387.811842}, 1e-3, "axial, free-free");
}

TEST(StubbyBeamModes, ASquareRodTwistsSlowerThanARoundOne) {
    TestBeam square = round_rod();
    square.section = rectangle(0.03, 0.03, 0.29);
    const auto held = modes(assemble(cantilever(square)), 20);
    // sqrt(J / Ip) = sqrt(0.140577 x 6), Timoshenko and Goodier's torsion constant.
    EXPECT_TRUE(within(frequencies_along(held, kTorsion).at(0), 0.91841 * 994.2194862, 2e-4));
}

// beta tan beta = ratio of the rod's mass (inertia) to the lump's: S. S. Rao, Mechanical
// Vibrations; Blevins (from memory, recomputed).
TEST(StubbyBeamModes, RodsWithATipLumpMatchRao) {
    struct Row {
        double ratio;
        std::vector<double> axial, torsion;
    };
    const std::vector<Row> rows{
        {0.5, {664.149348, 3347.133009, 6467.553014}, {413.4813234, 2083.83399, 4026.522631}},
        {1, {874.6597178, 3482.661276, 6544.490975}, {544.5393551, 2168.210204, 4074.422113}},
        {2, {1094.805909, 3704.269729, 6687.875029}, {681.5963872, 2306.177601, 4163.689125}}};
    const TestBeam rod = round_rod();
    const double mass = 7850 * rod.section.area * 0.8;
    const double inertia = 7850 * 2 * rod.section.second_moment_y * 0.8;
    for (const Row& row : rows) {
        StructureModel model = cantilever(rod);
        add_lump(model, "tip", 0, mass / row.ratio, {0, 0, inertia / row.ratio});
        const auto found = modes(assemble(model), 40);
        const std::string what = "rod over lump " + std::to_string(row.ratio);
        expect_list(frequencies_along(found, kAxial), row.axial, 1e-3, "axial, " + what);
        expect_list(frequencies_along(found, kTorsion), row.torsion, 1e-3, "torsion, " + what);
    }
}

TEST(StubbyBeamModes, ARodTwistsUnderATorqueByTLOverGJ) {
    const AssembledSystem system = assemble(cantilever(round_rod(1)));
    Eigen::VectorXd torque = Eigen::VectorXd::Zero(6);
    torque[5] = 50;
    const Eigen::VectorXd motion = StaticSolution(system).displacements(torque);
    EXPECT_TRUE(within(motion[5], 0.006330542416, 1e-9));
}

// Three steps, 60 / 40 / 20 mm over 0.3 / 0.25 / 0.12 m: exact Timoshenko transfer matrix.
TEST(StubbyBeamModes, SteppedCantileverMatchesTheTransferMatrix) {
    StructureModel model;
    model.nodes = {{0, 0, 0.3}, {0, 0, 0.55}, {0, 0, 0.67}};
    const Material steel = isotropic(205e9, 0.29, 7850);
    constexpr double kDiameters[] = {0.06, 0.04, 0.02};
    for (int step = 0; step < 3; ++step) {
        const TestBeam beam{
            .section = solid_round(kDiameters[step], 0.29), .material = steel, .elements = 12};
        const Attachment start = step == 0 ? Attachment{} : Attachment{.node = step - 1};
        add_beam(model, "step " + std::to_string(step), beam, start, {.node = step});
    }
    const AssembledSystem system = assemble(model);
    EXPECT_TRUE(within(point_compliance(system, {.node = 2})(0, 0) * 500, 0.0008199196705, 1e-6));
    // Round: both planes in pairs.
    const auto found = modes(system, 16);
    const std::vector<double> hertz{164.60519, 547.8213584, 1109.15253, 2021.514334, 3301.525124};
    expect_list(bending_pairs(found), hertz, 1e-3, "stepped");
}

}  // namespace
}  // namespace standfast::test
