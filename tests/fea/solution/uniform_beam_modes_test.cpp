#include <gtest/gtest.h>

#include <cmath>

#include "fea/solution/modes.hpp"
#include "fea/structure/assembly.hpp"
#include "tests/support/beams.hpp"
#include "tests/support/published.hpp"

// Euler-Bernoulli bars: R. D. Blevins, Formulas for Natural Frequency and Mode Shape, table 8-1,
// and W. T. Thomson, Theory of Vibration with Applications, appendix D, whose roots are known to
// six digits; frequencies by f = (beta L)^2 / (2 pi L^2) sqrt(EI / (rho A)) for a bar of 40 mm x 20
// mm x 800 mm, E 205 GPa, 7850 kg/m^3, bent in the 20 mm direction. Shear and rotary inertia, which
// the closed forms leave out, are off.
namespace standfast::test {
namespace {

constexpr double kPinned = 1e12;  // N/m: 1e5 times the element's own stiffness

TestBeam thin_bar() {
    return {.section = without_shear(rectangle(0.02, 0.04, 0.29)),
            .material = isotropic(205e9, 0.29, 7850),
            .length = 0.8,
            .elements = 24,
            .rotary_inertia = false};
}

std::vector<double> bending(const StructureModel& model, int count = 30) {
    std::vector<double> elastic;
    for (const double hertz : frequencies_along(modes(assemble(model), count), kBendingX)) {
        if (hertz > 0) elastic.push_back(hertz);
    }
    return elastic;
}

// 24 consistent elements: the error of mode n grows with n^4, 2e-4 at the fifth.
constexpr double kMesh = 2e-4;

TEST(UniformBeamModes, ClampedFreeMatchesBlevins) {
    expect_list(bending(cantilever(thin_bar())), {25.7972, 161.668, 452.676, 887.064, 1466.38},
                kMesh, "clamped-free");
}

TEST(UniformBeamModes, TheOtherPlaneIsStifferByTheSidesOfTheSection) {
    const auto found = modes(assemble(cantilever(thin_bar())), 24);
    expect_list(frequencies_along(found, kBendingY), {2 * 25.7972, 2 * 161.668}, kMesh, "y plane");
}

TEST(UniformBeamModes, FreeFreeMatchesBlevinsAndRigidMotionsCostNothing) {
    const auto found = modes(assemble(free_beam(thin_bar())), 30);
    for (std::size_t i = 0; i < 6; ++i) {
        EXPECT_LT(found[i].frequency.hertz(), 1e-3 * 164.154) << "rigid motion " << i;
        EXPECT_EQ(found[i].damping_ratio, 0);
        EXPECT_EQ(found[i].strain_share.sum(), 0);
    }
    expect_list(bending(free_beam(thin_bar())), {164.154, 452.497, 887.075, 1466.38, 2190.52}, 3e-4,
                "free-free");
}

TEST(UniformBeamModes, ClampedPinnedMatchesBlevins) {
    StructureModel model = cantilever(thin_bar());
    add_springs(model, "pin", 0, {kPinned, 0, 0}, {0, 0, 0});
    expect_list(bending(model), {113.124, 366.595, 764.871, 1307.97, 1995.91}, 3e-4,
                "clamped-pinned");
}

TEST(UniformBeamModes, PinnedPinnedMatchesBlevins) {
    StructureModel model = free_beam(thin_bar());
    add_springs(model, "pin", 0, {kPinned, kPinned, kPinned}, {0, 0, 1e6});
    add_springs(model, "pin", 1, {kPinned, kPinned, 0}, {0, 0, 0});
    expect_list(bending(model), {72.4138, 289.655, 651.724, 1158.62, 1810.35}, 3e-4,
                "pinned-pinned");
}

TEST(UniformBeamModes, ClampedClampedIsFreeFreeWithoutTheRigidMotions) {
    StructureModel model = cantilever(thin_bar());
    add_springs(model, "wall", 0, {kPinned, kPinned, kPinned}, {1e9, 1e9, 1e9});
    expect_list(bending(model), {164.154, 452.497, 887.075, 1466.38, 2190.52}, 3e-4,
                "clamped-clamped");
}

// D. Young and R. P. Felgar, Tables of characteristic functions (1949), as in Blevins, table 8-1
// (from memory; recomputed): cantilever shapes at x/L = 0.2, 0.4 ... 1, tip 1.
TEST(UniformBeamModes, CantileverShapesMatchYoungAndFelgar) {
    constexpr double kShapes[3][5] = {{0.0638709, 0.229884, 0.461135, 0.725478, 1},
                                      {-0.301055, -0.683469, -0.589476, 0.0700359, 1},
                                      {0.604506, 0.525925, -0.473765, -0.394874, 1}};
    TestBeam bar = thin_bar();
    bar.elements = 20;
    const AssembledSystem system = assemble(cantilever(bar));
    std::vector<Eigen::VectorXd> shapes;
    for (const Mode& mode : modes(system, 12)) {
        const auto shares = motion_shares(mode, 0.1);
        if (shares[0] + shares[4] > 0.9) shapes.push_back(mode.shape);
    }
    ASSERT_GE(shapes.size(), 3U);
    for (std::size_t mode = 0; mode < 3; ++mode) {
        for (int i = 0; i < 5; ++i) {
            const double z = 0.8 * 0.2 * (i + 1);
            for (std::size_t node = 0; node < system.nodes.size(); ++node) {
                if (std::abs(system.nodes[node].z() - z) > 1e-9) continue;
                const double at = shapes[mode][6 * static_cast<Eigen::Index>(node)];
                EXPECT_NEAR(at / shapes[mode][0], kShapes[mode][i], 1e-3)
                    << "mode " << mode + 1 << " at z/L = " << z / 0.8;
            }
        }
    }
}

struct TipRow {
    double mass_ratio, inertia_ratio;  ///< by the bar's mass 5.024 kg and its mass x L^2
    std::vector<double> hertz;
};

// Tip mass: 1 + cos x cosh x + mu x (cos x sinh x - sin x cosh x) = 0; Blevins, table 8-8, and, for
// mu = 1, Math. Probl. Eng. 2017, 1568019, table 1. With tip inertia: B. R. Bhat and H. Wagner,
// J. Sound and Vibration 45 (1976) 304.
TEST(UniformBeamModes, TipMassesMatchBlevinsAndBhatAndWagner) {
    const std::vector<TipRow> rows{{0.2, 0, {19.1699, 133.592, 392.962, 793.814}},
                                   {0.5, 0, {14.7937, 124.007, 379.332, 778.153}},
                                   {1.0, 0, {11.4260, 119.228, 373.425, 771.845}},
                                   {2.0, 0, {8.49775, 116.372, 370.137, 768.447}},
                                   {5.0, 0, {5.55369, 114.475, 368.044, 766.323}},
                                   {0.5, 0.02, {14.3758, 82.1879, 211.194, 486.648}},
                                   {1.0, 0.01, {11.3260, 97.1396, 235.296, 490.326}},
                                   {1.0, 0.083333333, {10.6355, 49.3383, 182.828, 468.155}}};
    constexpr double kBarMass = 5.024;
    for (const TipRow& row : rows) {
        StructureModel model = cantilever(thin_bar());
        const double inertia = row.inertia_ratio * kBarMass * 0.8 * 0.8;
        add_lump(model, "tip", 0, row.mass_ratio * kBarMass, {inertia, inertia, inertia});
        expect_list(bending(model), row.hertz, kMesh,
                    "mass ratio " + std::to_string(row.mass_ratio) + ", inertia ratio " +
                        std::to_string(row.inertia_ratio));
    }
}

// T. R. Chun, Free vibration of a beam with one end spring-hinged, J. Appl. Mech. 39 (1972) 1154:
// kappa (1 + cos x cosh x) = x (sin x cosh x - cos x sinh x), kappa = k L / (EI).
TEST(UniformBeamModes, RootSpringMatchesChun) {
    struct Row {
        double kappa;
        std::vector<double> hertz;
    };
    const std::vector<Row> rows{{0.1, {3.9721, 113.809, 367.325, 765.601}},
                                {1, {11.426, 119.228, 373.425, 771.845}},
                                {10, {21.7752, 142.015, 407.34, 812.27}},
                                {100, {25.2956, 158.627, 444.405, 871.33}}};
    for (const Row& row : rows) {
        StructureModel model = free_beam(thin_bar());
        const double k = row.kappa * 205e9 * thin_bar().section.second_moment_z / 0.8;
        add_springs(model, "root", 0, {kPinned, kPinned, kPinned}, {1e9, k, 1e9});
        expect_list(bending(model), row.hertz, kMesh, "kappa " + std::to_string(row.kappa));
    }
}

}  // namespace
}  // namespace standfast::test
