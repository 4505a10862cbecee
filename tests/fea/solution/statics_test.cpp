#include "fea/solution/statics.hpp"

#include <gtest/gtest.h>

#include <stdexcept>

#include "fea/structure/assembly.hpp"
#include "tests/support/beams.hpp"
#include "tests/support/published.hpp"

namespace standfast::test {
namespace {

const Material kSteel = isotropic(205e9, 0.29, 7850);

TestBeam bar(double length, double depth, int elements = 4) {
    return {.section = rectangle(depth, 0.04, 0.29),
            .material = kSteel,
            .length = length,
            .elements = elements};
}

/// Motion of node 0 (x, y, z, rotations) under a load there.
Eigen::VectorXd motion_under(const StructureModel& model, int freedom, double load) {
    const AssembledSystem system = assemble(model);
    Eigen::VectorXd loads = Eigen::VectorXd::Zero(system.size);
    loads[freedom] = load;
    return StaticSolution(system).displacements(loads);
}

// Textbook (S. Timoshenko; Roark's Formulas for Stress and Strain, chapter 8), with shear: bar of
// 20 mm x 40 mm x 800 mm, E 205 GPa, nu 0.29, kappa 0.84924.
TEST(Statics, CantileverMatchesRoark) {
    const StructureModel model = cantilever(bar(0.8, 0.02));
    const Eigen::VectorXd force = motion_under(model, 0, 500);
    EXPECT_TRUE(within(force[0], 0.01561716585, 1e-8));
    EXPECT_TRUE(within(force[4], 0.02926829268, 1e-8));
    const Eigen::VectorXd moment = motion_under(model, 4, 20);
    EXPECT_TRUE(within(moment[0], 0.001170731707, 1e-8));
    EXPECT_TRUE(within(moment[4], 0.002926829268, 1e-8));
}

TEST(Statics, UniformLoadByManyForcesTendsToRoark) {
    TestBeam fine = bar(0.8, 0.02, 40);
    const AssembledSystem system = assemble(cantilever(fine));
    Eigen::VectorXd lateral = Eigen::VectorXd::Zero(system.size);
    for (Eigen::Index node = 0; node < system.size / 6; ++node) lateral[6 * node] = 1;
    // Work-equivalent forces of a uniform line load: those of the inertia of a unit translation;
    // the half element next to the wall that M leaves to the ground is 1/40 of the load there.
    const Eigen::VectorXd loads =
        mass_matrix(system) * lateral / (kSteel.density * fine.section.area) * 800;
    const Eigen::VectorXd motion = StaticSolution(system).displacements(loads);
    EXPECT_TRUE(within(motion[0], 0.007497425171, 1e-4));
    EXPECT_TRUE(within(motion[4], 0.01248780488, 1e-4));
}

TEST(Statics, DeepCantileverGivesItsShareOfShear) {
    const Eigen::VectorXd motion = motion_under(cantilever(bar(0.5, 0.25, 1)), 0, 10000);
    EXPECT_TRUE(within(motion[0], 4.643414634e-05, 1e-8));
}

// Superposition: P / k_v + P L^2 / k_theta + bending + shear.
TEST(Statics, RootSpringsAdd) {
    StructureModel model = free_beam(bar(0.8, 0.02));
    std::swap(model.nodes[0], model.nodes[1]);
    std::swap(model.beams[0].start, model.beams[0].end);
    add_springs(model, "root", 1, {3e7, 1e12, 1e12}, {1e12, 40000, 1e12});
    const Eigen::VectorXd motion = motion_under(model, 0, 500);
    EXPECT_TRUE(within(motion[0], 0.02363383252, 1e-7));
    EXPECT_TRUE(within(motion[4], 0.03926829268, 1e-7));
}

// An L of a column and an arm under a vertical load at the arm's end, by the unit-load theorem:
// arm bending P b^3 / 3EI + shear, column bent by the moment P b over its whole height:
// P b^2 a / EI, and pressed: P a / EA.
TEST(Statics, AnElbowBendsByTheUnitLoadTheorem) {
    const double a = 0.3;
    const double b = 0.2;
    const TestBeam round{.section = solid_round(0.04, 0.29), .material = kSteel, .elements = 3};
    StructureModel model;
    model.nodes = {{0, 0, a}, {b, 0, a}};
    add_beam(model, "column", round, {}, {.node = 0});
    add_beam(model, "arm", round, {.node = 0}, {.node = 1}, Eigen::Vector3d::UnitZ());
    const double bending = 205e9 * round.section.second_moment_y;
    const double shear =
        round.section.shear_coefficient_y * shear_modulus(kSteel) * round.section.area;
    const double sag = b * b * b / (3 * bending) + b / shear + b * b * a / bending +
                       a / (205e9 * round.section.area);
    const Eigen::Matrix3d compliance = point_compliance(assemble(model), {.node = 1});
    EXPECT_TRUE(within(compliance(2, 2), sag, 1e-9));
    // Sideways: the column twists by the arm's lever as well.
    const double twist = b * b * a / (shear_modulus(kSteel) * round.section.torsion_constant);
    const double sideways =
        a * a * a / (3 * bending) + a / shear + b * b * b / (3 * bending) + b / shear + twist;
    EXPECT_TRUE(within(compliance(1, 1), sideways, 1e-9));
}

TEST(Statics, WorkDoneIsStrainEnergy) {
    StructureModel model = free_beam(bar(0.3, 0.05));
    add_springs(model, "root", 0, {1e8, 2e8, 3e8}, {1e6, 2e6, 3e6});
    const AssembledSystem system = assemble(model);
    Eigen::VectorXd loads = Eigen::VectorXd::Zero(system.size);
    loads.segment<6>(6) << 100, -200, 300, 5, -6, 7;
    const Eigen::VectorXd motion = StaticSolution(system).displacements(loads);
    double energy = 0;
    for (const auto& parameter : system.stiffness) {
        energy += parameter.value * motion.dot(parameter.shape * motion) / 2;
    }
    EXPECT_TRUE(within(energy, loads.dot(motion) / 2, 1e-10));
}

TEST(Statics, ALoadHereMovesThereWhatALoadThereMovesHere) {
    StructureModel model = cantilever(bar(0.3, 0.05, 6));
    const AssembledSystem system = assemble(model);
    const Eigen::MatrixXd all =
        StaticSolution(system).displacements(Eigen::MatrixXd::Identity(system.size, system.size));
    EXPECT_LT((all - all.transpose()).cwiseAbs().maxCoeff(), 1e-12 * all.cwiseAbs().maxCoeff());
}

TEST(Statics, SaysWhichMemberIsLoose) {
    const auto message = [](const StructureModel& model) -> std::string {
        try {
            point_compliance(assemble(model), {.node = 1});
        } catch (const std::domain_error& error) {
            return error.what();
        }
        return "held";
    };
    EXPECT_NE(message(free_beam(bar(0.3, 0.05))).find("beam"), std::string::npos);

    // A part that its joint lets tilt about x moves; the riser under it does not.
    StructureModel model = cantilever(bar(0.2, 0.06));
    model.members[0].name = "riser";
    model.nodes.insert(model.nodes.end(), {{0, 0, 0.2}, {0, 0, 0.3}});
    add_springs(model, "joint", 1, {1e8, 1e8, 1e8}, {0, 1e6, 1e6}, 0);
    add_beam(model, "part", bar(0.1, 0.05), {.node = 1}, {.node = 2});
    EXPECT_NE(message(model).find("\"part\""), std::string::npos) << message(model);
    model.joints[0].rotation.x() = 1e3;
    EXPECT_EQ(message(model), "held");
}

TEST(Statics, SlenderColumnsOfManyElementsKeepTheirDigits) {
    const double length = 2;
    TestBeam slender = bar(length, 0.01, 400);
    const double tip = point_compliance(assemble(cantilever(slender)), {.node = 0})(0, 0);
    const double bending = 205e9 * slender.section.second_moment_z;
    EXPECT_TRUE(within(tip, length * length * length / (3 * bending), 1e-4));
}

}  // namespace
}  // namespace standfast::test
