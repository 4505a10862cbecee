#include "fea/solution/modes.hpp"

#include <gtest/gtest.h>

#include <Eigen/Eigenvalues>
#include <cmath>
#include <stdexcept>

#include "fea/structure/assembly.hpp"
#include "tests/support/beams.hpp"
#include "tests/support/published.hpp"

namespace standfast::test {
namespace {

TestBeam round_bar(double loss, int elements, double length = 0.3) {
    return {.section = solid_round(0.05, 0.29),
            .material = isotropic(205e9, 0.29, 7850, loss),
            .length = length,
            .elements = elements};
}

StructureModel bar_on_springs(int elements) {
    StructureModel model = free_beam(round_bar(0.002, elements));
    add_springs(model, "root", 0, {2e8, 1.5e8, 4e8}, {2e6, 1e6, 3e6}, kGround, 0.05);
    return model;
}

TEST(Modes, SatisfyTheEquationAreOrthonormalAndAscend) {
    const AssembledSystem system = assemble(bar_on_springs(20));
    const Eigen::MatrixXd k(stiffness_matrix(system));
    const Eigen::MatrixXd m(mass_matrix(system));
    const auto found = modes(system, 12);
    ASSERT_EQ(found.size(), 12U);
    for (std::size_t a = 0; a < found.size(); ++a) {
        const double square = std::pow(found[a].frequency.radians_per_second, 2);
        const Eigen::VectorXd inertia = square * (m * found[a].shape);
        EXPECT_LT((k * found[a].shape - inertia).norm(), 1e-6 * inertia.norm()) << "mode " << a;
        for (std::size_t b = 0; b <= a; ++b) {
            const double product = found[a].shape.dot(m * found[b].shape);
            EXPECT_NEAR(product, a == b ? 1 : 0, 1e-8) << a << ", " << b;
        }
        EXPECT_GE(found[a].frequency, found[a > 0 ? a - 1 : 0].frequency);
        EXPECT_NEAR(found[a].strain_share.sum(), 1, 1e-12);
        EXPECT_GE(found[a].strain_share.minCoeff(), -1e-12);
    }
}

TEST(Modes, IterationAndDenseSolutionAgree) {
    for (const int elements : {7, 20, 60}) {
        const AssembledSystem system = assemble(bar_on_springs(elements));
        const Eigen::GeneralizedSelfAdjointEigenSolver<Eigen::MatrixXd> dense(
            Eigen::MatrixXd(stiffness_matrix(system)), Eigen::MatrixXd(mass_matrix(system)));
        const auto found = modes(system, 10);
        for (std::size_t i = 0; i < found.size(); ++i) {
            const double expected = std::sqrt(dense.eigenvalues()[static_cast<Eigen::Index>(i)]);
            EXPECT_TRUE(within(found[i].frequency.radians_per_second, expected, 1e-7))
                << elements << " elements, mode " << i;
        }
    }
}

TEST(Modes, NoneOfAManyfoldFrequencyIsMissed) {
    // Nine like columns side by side: every frequency of a column comes ninefold and, the columns
    // being round, in two planes.
    StructureModel model;
    for (int i = 0; i < 9; ++i) {
        model.nodes.emplace_back(0.2 * i, 0, 0.3);
        add_beam(model, "column", round_bar(0, 6), {.node = kGround, .arm = {0.2 * i, 0, 0}},
                 {.node = i});
    }
    const auto found = modes(assemble(model), 24);
    const auto single = modes(assemble(cantilever(round_bar(0, 6))), 4);
    for (std::size_t i = 0; i < 18; ++i) {
        EXPECT_TRUE(within(found[i].frequency.hertz(), single[0].frequency.hertz(), 1e-8)) << i;
    }
    EXPECT_GT(found[18].frequency.hertz(), 1.5 * single[0].frequency.hertz());
}

TEST(Modes, AFreeFloatingStackHasSixMotionsWithoutFrequency) {
    for (const int elements : {3, 30}) {
        const auto found = modes(assemble(free_beam(round_bar(0.001, elements))), 9);
        for (std::size_t i = 0; i < 6; ++i) {
            EXPECT_LT(found[i].frequency.hertz(), 1e-3 * found[6].frequency.hertz());
        }
        EXPECT_TRUE(within(found[6].damping_ratio, 0.0005, 1e-9));
    }
}

TEST(Modes, DampingIsHalfTheLossWeightedByStrainEnergy) {
    const AssembledSystem system = assemble(bar_on_springs(10));
    for (const Mode& mode : modes(system, 6)) {
        const double bar = mode.strain_share[0];
        const double root = mode.strain_share[1];
        EXPECT_NEAR(mode.damping_ratio, (0.002 * bar + 0.05 * root) / 2, 1e-12);
    }
    // Equal loss everywhere: zeta = eta / 2 in every mode.
    StructureModel even = bar_on_springs(10);
    even.joints[0].loss_factor = 0.002;
    for (const Mode& mode : modes(assemble(even), 6)) {
        EXPECT_TRUE(within(mode.damping_ratio, 0.001, 1e-9));
    }
}

// A node between two joints, without a mass of its own, is no mode and does no harm: springs in
// series.
TEST(Modes, ANodeWithoutMassBetweenTwoJointsIsTwoSpringsInSeries) {
    for (const int elements : {2, 30}) {
        StructureModel series;
        series.nodes = {{0, 0, 0}, {0, 0, 0}, {0, 0, 0.3}};
        add_springs(series, "table", 0, {2e8, 2e8, 2e8}, {2e6, 2e6, 2e6});
        add_springs(series, "joint", 1, {2e8, 2e8, 2e8}, {2e6, 2e6, 2e6}, 0);
        add_beam(series, "bar", round_bar(0, elements), {.node = 1}, {.node = 2});
        StructureModel single = free_beam(round_bar(0, elements));
        add_springs(single, "both", 0, {1e8, 1e8, 1e8}, {1e6, 1e6, 1e6});
        const auto a = modes(assemble(series), 8);
        const auto b = modes(assemble(single), 8);
        for (std::size_t i = 0; i < 8; ++i) {
            EXPECT_TRUE(within(a[i].frequency.hertz(), b[i].frequency.hertz(), 1e-7)) << i;
        }
        EXPECT_NEAR(a[0].strain_share[0], a[0].strain_share[1], 1e-9);
    }
}

TEST(Modes, ChangingAParameterChangesThemAsTheStrainShareSays) {
    // d(omega^2) / omega^2 = share x dk / k: Rayleigh.
    AssembledSystem system = assemble(bar_on_springs(12));
    const Mode before = modes(system, 1)[0];
    constexpr double kStep = 1e-4;
    for (auto& parameter : system.stiffness) {
        if (parameter.member == 1) parameter.value *= 1 + kStep;
    }
    const Mode after = modes(system, 1)[0];
    const double change =
        2 * std::log(after.frequency.radians_per_second / before.frequency.radians_per_second);
    EXPECT_TRUE(within(change / kStep, before.strain_share[1], 1e-3));
}

TEST(Modes, AskingForMoreThanThereAreGivesAll) {
    StructureModel model;
    model.nodes = {{0, 0, 0}};
    add_springs(model, "spring", 0, {1e6, 2e6, 3e6}, {1, 1, 1});
    add_lump(model, "point", 0, 4);  // no rotary inertia: three modes only
    const auto found = modes(assemble(model), 50);
    ASSERT_EQ(found.size(), 3U);
    EXPECT_TRUE(within(found[0].frequency.radians_per_second, 500, 1e-9));
    EXPECT_TRUE(modes(assemble(model), 0).empty());
}

TEST(Modes, RefusesWhatHasNoMassOrNoHold) {
    StructureModel model;
    model.nodes = {{0, 0, 0}};
    add_springs(model, "spring", 0, {1e6, 1e6, 1e6}, {0, 0, 0});
    add_lump(model, "point", 0, 4);  // nothing holds, nothing weighs its rotations
    EXPECT_THROW(modes(assemble(model), 3), std::domain_error);
    StructureModel massless;
    massless.nodes = {{0, 0, 0}};
    add_springs(massless, "spring", 0, {1e6, 1e6, 1e6}, {1, 1, 1});
    EXPECT_THROW(modes(assemble(massless), 3), std::domain_error);
}

}  // namespace
}  // namespace standfast::test
