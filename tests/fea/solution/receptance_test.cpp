#include "fea/solution/receptance.hpp"

#include <gtest/gtest.h>

#include <Eigen/Eigenvalues>
#include <Eigen/LU>
#include <array>
#include <cmath>
#include <numbers>
#include <stdexcept>
#include <thread>

#include "fea/solution/statics.hpp"
#include "tests/support/beams.hpp"
#include "tests/support/published.hpp"

namespace standfast::test {
namespace {

using Complex = std::complex<double>;

AngularFrequency hertz(double value) { return AngularFrequency::from_hertz(value); }

TestBeam thin_bar(double loss, int elements = 40, double length = 0.8) {
    return {.section = without_shear(rectangle(0.02, 0.04, 0.29)),
            .material = isotropic(205e9, 0.29, 7850, loss),
            .length = length,
            .elements = elements,
            .rotary_inertia = false};
}

/// A riser on a table, a part on a joint, all with loss: like a shop's stack.
StructureModel stack(double loss_scale = 1) {
    StructureModel model;
    model.nodes = {{0, 0, 0}, {0, 0, 0.15}, {0, 0, 0.15}, {0, 0, 0.25}};
    const Material iron = isotropic(169e9, 0.275, 7100, 0.002 * loss_scale);
    const Material aluminium = isotropic(68.9e9, 0.33, 2700, 0.0005 * loss_scale);
    add_springs(model, "table", 0, {1.5e8, 1.5e8, 4e8}, {6e6, 6e6, 4e6}, kGround,
                0.04 * loss_scale);
    add_beam(model, "riser",
             {.section = round_tube(0.11, 0.07, 0.275), .material = iron, .elements = 4},
             {.node = 0}, {.node = 1});
    add_springs(model, "joint", 2, {3e8, 2.5e8, 8e8}, {3e5, 2e5, 4e5}, 1, 0.03 * loss_scale);
    add_beam(model, "part",
             {.section = rectangle(0.07, 0.05, 0.33), .material = aluminium, .elements = 4},
             {.node = 2}, {.node = 3});
    add_lump(model, "side", 1, 2, {0.002, 0.003, 0.004}, {0.07, 0.01, -0.02});
    return model;
}

// One mass on a lossy spring, 8 kg on 32 N/um, eta 0.06: 1 / (k (1 + i eta) - m w^2). Textbook
// (Rao; D. J. Ewins, Modal Testing).
TEST(Receptance, SingleMassOnALossySpring) {
    StructureModel model;
    model.nodes = {{0, 0, 0}};
    add_springs(model, "spring", 0, {3.2e7, 3.2e7, 3.2e7}, {1e5, 1e5, 1e5}, kGround, 0.06);
    add_lump(model, "mass", 0, 8, {0.1, 0.1, 0.1});
    const DirectReceptance receptance(assemble(model), {.node = 0});
    struct Row {
        double ratio;
        Complex value;
    };
    const Row rows[] = {
        {0.0, {3.113790355e-08, -1.868274213e-09}}, {0.5, {4.140169581e-08, -3.312135665e-09}},
        {0.9, {1.49559194e-07, -4.722921914e-08}},  {1.0, {0.0, -5.208333333e-07}},
        {1.1, {-1.375786164e-07, -3.93081761e-08}}, {2.0, {-1.041250167e-08, -2.082500333e-10}}};
    for (const Row& row : rows) {
        const Eigen::Matrix3cd g = receptance.at(hertz(318.3098862 * row.ratio));
        EXPECT_TRUE(within(g(0, 0), row.value, 1e-6)) << "at " << row.ratio << " f0";
        EXPECT_LT(std::abs(g(0, 1)), 1e-20);
    }
    // The modal form of the same is viscous, zeta = eta / 2.
    const auto modal = modal_receptance(assemble(model), modes(assemble(model), 6), {.node = 0});
    const Complex peak = receptance_at(modal, hertz(318.3098862))(0, 0);
    EXPECT_TRUE(within(peak, {0, -5.208333333e-07}, 1e-6));
    const Complex low = receptance_at(modal, hertz(318.3098862 * 0.5))(0, 0);
    EXPECT_TRUE(within(low, {4.16001065e-08, -1.66400426e-09}, 1e-6));
}

/// v and theta at a point of a bar along z, by force and moment in the x-z plane, from the
/// receptance at three points on a rigid arm: G(a) = vv + 2 a vt + a^2 tt.
struct PlaneReceptance {
    Complex v_per_force, theta_per_force, theta_per_moment;
};
PlaneReceptance in_plane(const AssembledSystem& system, int node, AngularFrequency w) {
    constexpr double kArm = 0.1;
    const auto at = [&](double arm) {
        return DirectReceptance(system, {.node = node, .arm = {0, 0, arm}}).at(w)(0, 0);
    };
    const Complex above = at(kArm);
    const Complex here = at(0);
    const Complex below = at(-kArm);
    return {.v_per_force = here,
            .theta_per_force = (above - below) / (4 * kArm),
            .theta_per_moment = (above + below - 2.0 * here) / (2 * kArm * kArm)};
}

// R. E. D. Bishop and D. C. Johnson, The Mechanics of Vibration, table 7.1(c): tip of a cantilever,
// eta 0.01 (complex lambda), Euler-Bernoulli.
TEST(Receptance, CantileverTipMatchesBishopAndJohnson) {
    struct Row {
        double hertz;
        Complex v_per_force, theta_per_force, theta_per_moment;
    };
    const Row rows[] = {{10,
                         {3.657641482e-05, -4.288513703e-07},
                         {6.776640544e-05, -7.863448975e-07},
                         {0.0001622979027, -1.810780608e-06}},
                        {25.79718896,
                         {9.355093404e-07, -0.003030450713},
                         {6.517164502e-06, -0.005214340019},
                         {5.737341811e-05, -0.008972426705}},
                        {60,
                         {-5.832359372e-06, -2.743538802e-08},
                         {-4.676209304e-06, -1.070422326e-07},
                         {4.087013042e-05, -7.113730187e-07}},
                        {150,
                         {4.750000157e-06, -3.985143308e-07},
                         {3.329549572e-05, -2.390704497e-06},
                         {0.0002247168168, -1.448081779e-05}},
                        {161.6682236,
                         {-6.328949642e-07, -7.716358306e-05},
                         {5.761630446e-07, -0.0004611372225},
                         {2.832470102e-05, -0.002755940479}},
                        {400,
                         {2.234049315e-07, -2.135979949e-08},
                         {4.202875255e-06, -2.128951469e-07},
                         {5.854934929e-05, -2.209130671e-06}}};
    const AssembledSystem system = assemble(cantilever(thin_bar(0.01)));
    for (const Row& row : rows) {
        const PlaneReceptance found = in_plane(system, 0, hertz(row.hertz));
        // The mesh moves the second frequency by 1e-6: 1e-3 is for the peaks.
        EXPECT_TRUE(within(found.v_per_force, row.v_per_force, 1e-3)) << row.hertz << " Hz";
        EXPECT_TRUE(within(found.theta_per_force, row.theta_per_force, 1e-3)) << row.hertz << " Hz";
        EXPECT_TRUE(within(found.theta_per_moment, row.theta_per_moment, 1e-3))
            << row.hertz << " Hz";
    }
}

// Two free bars of 0.5 and 0.3 m, joined rigidly and through springs: closed-form free-free
// receptances (Bishop and Johnson) coupled by H = B_LL - B_L0 (A_LL + B_00 + 1/K)^-1 B_0L.
TEST(Receptance, JoinedBarsMatchReceptanceCoupling) {
    struct Row {
        double hertz, rigid_v, rigid_theta, sprung_v, sprung_theta_per_force;
    };
    constexpr Row kRows[] = {
        {25, -3.135781017e-05, -9.626641053e-05, -3.087509045e-05, -5.144458693e-05},
        {120, 3.58467139e-07, 7.76165911e-05, 4.230338884e-06, 3.122868369e-05},
        {310, -2.666894168e-07, 2.756009174e-05, -2.551033388e-07, 7.364632895e-07},
        {700, -6.462378359e-08, 2.032739938e-05, -1.061729981e-08, 1.076713329e-06}};

    StructureModel rigid;
    rigid.nodes = {{0, 0, 0}, {0, 0, 0.5}, {0, 0, 0.8}};
    add_beam(rigid, "A", thin_bar(0, 50), {.node = 0}, {.node = 1});
    add_beam(rigid, "B", thin_bar(0, 30), {.node = 1}, {.node = 2});
    StructureModel sprung;
    sprung.nodes = {{0, 0, 0}, {0, 0, 0.5}, {0, 0, 0.8}, {0, 0, 0.5}};
    add_beam(sprung, "A", thin_bar(0, 50), {.node = 0}, {.node = 1});
    add_springs(sprung, "joint", 3, {5e7, 1e12, 1e12}, {1e9, 30000, 1e9}, 1);
    add_beam(sprung, "B", thin_bar(0, 30), {.node = 3}, {.node = 2});
    const AssembledSystem whole = assemble(rigid);
    const AssembledSystem jointed = assemble(sprung);
    for (const Row& row : kRows) {
        const PlaneReceptance a = in_plane(whole, 2, hertz(row.hertz));
        // Undamped, near no resonance: the mesh leaves 1e-4 at 700 Hz.
        EXPECT_TRUE(within(a.v_per_force.real(), row.rigid_v, 2e-4)) << row.hertz;
        EXPECT_TRUE(within(a.theta_per_moment.real(), row.rigid_theta, 2e-4)) << row.hertz;
        const PlaneReceptance b = in_plane(jointed, 2, hertz(row.hertz));
        EXPECT_TRUE(within(b.v_per_force.real(), row.sprung_v, 2e-4)) << row.hertz;
        EXPECT_TRUE(within(b.theta_per_force.real(), row.sprung_theta_per_force, 1e-3))
            << row.hertz;
    }
}

TEST(Receptance, IsSymmetricAndDissipates) {
    const DirectReceptance receptance(assemble(stack()), {.node = 3, .arm = {0.02, 0.01, -0.03}});
    for (double f = 0; f < 5000; f += 173) {
        const Eigen::Matrix3cd g = receptance.at(hertz(f));
        EXPECT_LT((g - g.transpose()).norm(), 1e-12 * g.norm());
        // No force, in any direction, may draw energy from it: -Im G is positive semidefinite.
        const Eigen::SelfAdjointEigenSolver<Eigen::Matrix3d> loss(-g.imag());
        EXPECT_GT(loss.eigenvalues().minCoeff(), -1e-9 * g.norm()) << f << " Hz";
    }
}

TEST(Receptance, AtStandstillItIsTheStaticCompliance) {
    const MaterialPoint point{.node = 3, .arm = {0.02, 0.01, -0.03}};
    const AssembledSystem undamped = assemble(stack(0));
    const Eigen::Matrix3d compliance = point_compliance(undamped, point);
    const Eigen::Matrix3cd direct = DirectReceptance(undamped, point).at(hertz(0));
    EXPECT_LT((direct.real() - compliance).norm(), 1e-9 * compliance.norm());
    EXPECT_EQ(direct.imag().norm(), 0);
    const ModalReceptance modal = modal_receptance(undamped, modes(undamped, 6), point);
    EXPECT_LT((static_compliance(modal) - compliance).norm(), 1e-12 * compliance.norm());
}

// Dense solution of the whole system, as a second way.
TEST(Receptance, EliminationAgreesWithADenseSolution) {
    const AssembledSystem system = assemble(stack());
    for (const int node : {0, 1, 3, 5}) {
        const MaterialPoint point{.node = node, .arm = {0.01, -0.02, 0.03}};
        const DirectReceptance receptance(system, point);
        const Eigen::MatrixXd at(point_displacement(system, point));
        for (const double f : {90.0, 700.0, 2500.0}) {
            const double w = hertz(f).radians_per_second;
            Eigen::MatrixXcd dynamic =
                -w * w * Eigen::MatrixXcd(mass_matrix(system).cast<Complex>());
            for (const auto& p : system.stiffness) {
                dynamic += Eigen::MatrixXcd(p.shape.cast<Complex>()) *
                           (p.value * Complex(1, p.loss_factor));
            }
            const Eigen::Matrix3cd dense =
                at * dynamic.fullPivLu().solve(Eigen::MatrixXcd(at.transpose().cast<Complex>()));
            EXPECT_LT((receptance.at(hertz(f)) - dense).norm(), 1e-8 * dense.norm())
                << "node " << node << ", " << f << " Hz";
        }
    }
}

/// Largest difference of size |G| between direct and modal, over half-power widths about the peaks
/// and elsewhere below half the last kept frequency.
struct Disagreement {
    double near_peaks = 0, elsewhere = 0;
};
Disagreement disagreement(const AssembledSystem& system, const MaterialPoint& point, int count) {
    const std::vector<Mode> kept = modes(system, count);
    const ModalReceptance modal = modal_receptance(system, kept, point);
    const DirectReceptance direct(system, point);
    const double top = kept.back().frequency.hertz();
    Disagreement worst;
    const auto compare = [&](double f, double& most) {
        const Eigen::Matrix3cd exact = direct.at(hertz(f));
        const Eigen::Matrix3cd summed = receptance_at(modal, hertz(f));
        most = std::max(most, std::abs(summed.norm() / exact.norm() - 1));
    };
    for (std::size_t i = 0; i < kept.size(); ++i) {
        const double f = kept[i].frequency.hertz();
        if (f > top / 2) continue;
        const double width = 2 * kept[i].damping_ratio * f;
        for (double offset = -1.5; offset <= 1.5; offset += 0.25) {
            compare(f + offset * width, worst.near_peaks);
        }
    }
    for (double f = 1; f < top / 2; f += top / 1000) compare(f, worst.elsewhere);
    return worst;
}

double greatest_damping(const AssembledSystem& system, int count) {
    double greatest = 0;
    for (const Mode& mode : modes(system, count)) {
        greatest = std::max(greatest, mode.damping_ratio);
    }
    return greatest;
}

TEST(Receptance, DirectAndModalAgreeWhereDampingIsLight) {
    const AssembledSystem light = assemble(stack(0.1));
    EXPECT_LT(greatest_damping(light, 14), 0.003);
    for (const int node : {3, 1}) {
        const Disagreement worst = disagreement(light, {.node = node}, 14);
        EXPECT_LT(worst.near_peaks, 0.01) << "node " << node;
        EXPECT_LT(worst.elsewhere, 0.03) << "node " << node;
    }
    const Disagreement bar =
        disagreement(assemble(cantilever(thin_bar(0.01, 16))), {.node = 0}, 14);
    EXPECT_LT(bar.near_peaks, 0.01);
    EXPECT_LT(bar.elsewhere, 0.03);
}

// Real modes leave out what unevenly spread damping does to their shapes, and viscous damping
// stands for structural: both of the order of the damping ratio itself.
TEST(Receptance, DirectAndModalPartInProportionToDamping) {
    const AssembledSystem usual = assemble(stack(1));
    const double damping = greatest_damping(usual, 14);
    EXPECT_GT(damping, 0.015);
    for (const int node : {3, 1}) {
        const Disagreement worst = disagreement(usual, {.node = node}, 14);
        EXPECT_LT(worst.near_peaks, 1.5 * damping) << "node " << node;
        EXPECT_LT(worst.elsewhere, 3.5 * damping) << "node " << node;
    }
}

TEST(Receptance, UndampedPartsThatResonateAloneAreNoTrouble) {
    // The absorber alone on its spring resonates where the elimination, which begins with it, meets
    // a zero pivot; the whole has a receptance there all the same.
    StructureModel model;
    model.nodes = {{0, 0, 0}};
    add_springs(model, "root", 0, {1e6, 1e6, 1e6}, {1e5, 1e5, 1e5});
    add_lump(model, "block", 0, 2, {0.01, 0.01, 0.01});
    model.nodes.emplace_back(0, 0, 0);
    add_springs(model, "spring", 1, {4e6, 4e6, 4e6}, {1e4, 1e4, 1e4}, 0);
    add_lump(model, "absorber", 1, 1, {0.01, 0.01, 0.01});
    const DirectReceptance receptance(assemble(model), {.node = 0});
    // At the absorber's own frequency the block stands still (J. P. Den Hartog).
    const double tuned = std::sqrt(4e6 / 1.0) / (2 * std::numbers::pi);
    const double still = std::abs(receptance.at(hertz(tuned))(0, 0));
    EXPECT_LT(still, 1e-9 * std::abs(receptance.at(hertz(0))(0, 0)));
}

TEST(Receptance, ManyThreadsGetTheSameAnswer) {
    const DirectReceptance receptance(assemble(stack()), {.node = 3});
    std::array<Eigen::Matrix3cd, 4> found;
    std::vector<std::thread> threads;
    threads.reserve(found.size());
    for (auto& g : found) threads.emplace_back([&] { g = receptance.at(hertz(640)); });
    for (auto& thread : threads) thread.join();
    for (const auto& g : found) EXPECT_EQ(g, found[0]);
}

TEST(Receptance, GroundDoesNotMoveAndNonsenseIsRefused) {
    const AssembledSystem system = assemble(stack());
    EXPECT_EQ(DirectReceptance(system, {}).at(hertz(100)).norm(), 0);
    EXPECT_THROW(DirectReceptance(system, {.node = 999}), std::domain_error);
    const DirectReceptance receptance(system, {.node = 3});
    EXPECT_THROW(receptance.at(hertz(-1)), std::domain_error);
    EXPECT_THROW(receptance.at(hertz(std::nan(""))), std::domain_error);
}

}  // namespace
}  // namespace standfast::test
