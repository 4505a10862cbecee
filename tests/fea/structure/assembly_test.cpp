#include "fea/structure/assembly.hpp"

#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <cmath>
#include <numbers>
#include <stdexcept>

#include "fea/solution/statics.hpp"
#include "tests/support/beams.hpp"
#include "tests/support/published.hpp"

namespace standfast::test {
namespace {

TestBeam column(double length = 0.2) {
    return {.section = rectangle(0.05, 0.06, 0.29),
            .material = isotropic(205e9, 0.29, 7850, 0.001),
            .length = length,
            .elements = 3};
}

/// A riser on a table of springs, with a part on a joint and a weight hung at its side.
StructureModel small_stack() {
    StructureModel model;
    model.nodes = {{0, 0, 0}, {0, 0, 0.2}, {0, 0, 0.2}, {0, 0, 0.3}};
    add_springs(model, "table", 0, {1.5e8, 1.2e8, 4e8}, {6e6, 5e6, 4e6}, kGround, 0.04);
    add_beam(model, "riser", column(), {.node = 0}, {.node = 1});
    add_springs(model, "part joint", 2, {3e8, 3e8, 9e8}, {4e5, 3e5, 0}, 1, 0.02);
    add_beam(model, "part", column(0.1), {.node = 2}, {.node = 3});
    add_lump(model, "side", 1, 2.5, {0.001, 0.002, 0.003}, {0.06, 0, -0.01});
    return model;
}

double difference(const Eigen::SparseMatrix<double>& a, const Eigen::SparseMatrix<double>& b) {
    return (Eigen::MatrixXd(a) - Eigen::MatrixXd(b)).cwiseAbs().maxCoeff() /
           Eigen::MatrixXd(b).cwiseAbs().maxCoeff();
}

template <class Parameters>
std::vector<std::string> names(const Parameters& parameters) {
    std::vector<std::string> list;
    for (const auto& parameter : parameters) list.push_back(parameter.name);
    return list;
}

TEST(Assembly, NamesEveryStiffnessAndMass) {
    const AssembledSystem system = assemble(small_stack());
    EXPECT_EQ(names(system.stiffness),
              (std::vector<std::string>{
                  "riser.youngs_modulus", "part.youngs_modulus", "table.lateral_x",
                  "table.lateral_y", "table.vertical", "table.tilting_x", "table.tilting_y",
                  "table.twisting", "part joint.lateral_x", "part joint.lateral_y",
                  "part joint.vertical", "part joint.tilting_x", "part joint.tilting_y"}));
    EXPECT_EQ(names(system.mass),
              (std::vector<std::string>{"riser.density", "part.density", "side.lump"}));
    EXPECT_EQ(system.stiffness[2].loss_factor, 0.04);
    EXPECT_EQ(system.stiffness[0].loss_factor, 0.001);
    EXPECT_EQ(system.members[static_cast<std::size_t>(system.stiffness[8].member)].name,
              "part joint");
}

TEST(Assembly, RunsOfOneMaterialShareAParameterAndOthersAreNumbered) {
    StructureModel model = cantilever(column());
    model.nodes.insert(model.nodes.end(), {{0, 0, 0.3}, {0, 0, 0.4}});
    BeamRun more = model.beams[0];
    more.start.node = 0;
    more.end.node = 1;
    model.beams.push_back(more);
    more.start.node = 1;
    more.end.node = 2;
    more.material = isotropic(580e9, 0.22, 14500);
    model.beams.push_back(more);
    const AssembledSystem system = assemble(model);
    EXPECT_EQ(names(system.stiffness),
              (std::vector<std::string>{"beam.youngs_modulus", "beam.youngs_modulus_2"}));
    EXPECT_EQ(names(system.mass), (std::vector<std::string>{"beam.density", "beam.density_2"}));
    EXPECT_EQ(system.stiffness[1].value, 580e9);
}

TEST(Assembly, ChangingAValueIsAssemblingAModelWithThatValue) {
    AssembledSystem changed = assemble(small_stack());
    changed.stiffness[0].value = 110e9;
    changed.stiffness[11].value = 1e5;
    changed.mass[1].value = 2700;
    StructureModel other = small_stack();
    other.beams[0].material.youngs_modulus = 110e9;
    other.joints[1].rotation.x() = 1e5;
    other.beams[1].material.density = 2700;
    EXPECT_LT(difference(stiffness_matrix(changed), stiffness_matrix(assemble(other))), 1e-14);
    EXPECT_LT(difference(mass_matrix(changed), mass_matrix(assemble(other))), 1e-14);
}

TEST(Assembly, MatricesAreSymmetricAndRigidMotionsOfAFloatingStructureCostNothing) {
    StructureModel model = small_stack();
    model.joints.erase(model.joints.begin());  // off the table
    const AssembledSystem system = assemble(model);
    const Eigen::MatrixXd k(stiffness_matrix(system));
    const Eigen::MatrixXd m(mass_matrix(system));
    EXPECT_LT((k - k.transpose()).cwiseAbs().maxCoeff(), 1e-15 * k.cwiseAbs().maxCoeff());
    EXPECT_LT((m - m.transpose()).cwiseAbs().maxCoeff(), 1e-15 * m.cwiseAbs().maxCoeff());
    Eigen::MatrixXd rigid = Eigen::MatrixXd::Zero(system.size, 6);
    for (std::size_t node = 0; node < system.nodes.size(); ++node) {
        const auto row = 6 * static_cast<Eigen::Index>(node);
        for (int axis = 0; axis < 3; ++axis) {
            const Eigen::Vector3d turn = Eigen::Vector3d::Unit(axis);
            rigid(row + axis, axis) = 1;
            rigid.block<3, 1>(row, 3 + axis) = turn.cross(system.nodes[node]);
            rigid(row + 3 + axis, 3 + axis) = 1;
        }
    }
    EXPECT_LT((k * rigid).cwiseAbs().maxCoeff(), 1e-12 * k.cwiseAbs().maxCoeff());

    // The same motions weigh what the structure weighs, and where.
    const MassProperties whole = mass_properties(model);
    const Eigen::Matrix<double, 6, 6> inertia = rigid.transpose() * m * rigid;
    EXPECT_TRUE(within(inertia(0, 0), whole.mass, 1e-12));
    EXPECT_TRUE(within(inertia(2, 2), whole.mass, 1e-12));
    EXPECT_TRUE(within(inertia(0, 4), whole.mass * whole.centre.z(), 1e-12));
    EXPECT_TRUE(within(inertia(1, 5), whole.mass * whole.centre.x(), 1e-12));
    EXPECT_NEAR(inertia(2, 3), whole.mass * whole.centre.y(), 1e-12);
}

TEST(Assembly, MassPropertiesOfAConeAreThoseOfGeometry) {
    // Frustum of radii 0.03 and 0.01, height 0.2: pi h (R^2 + R r + r^2) / 3, its centre at
    // h (R^2 + 2 R r + 3 r^2) / (4 (R^2 + R r + r^2)) from the large end. Textbook geometry.
    TestBeam cone{.section = {}, .material = isotropic(205e9, 0.29, 7850), .length = 0.2};
    cone.taper = [](double s) { return solid_round(0.06 - 0.04 * s, 0.29); };
    const MassProperties found = mass_properties(cantilever(cone));
    EXPECT_TRUE(within(found.mass, 7850 * std::numbers::pi * 0.2 * 13e-4 / 3, 1e-12));
    EXPECT_TRUE(within(found.centre.z(), 0.2 * (9 + 6 + 3) / (4.0 * 13), 1e-12));
}

// Parallel axes: a body carried on an arm is the same body at a node put at its centre.
TEST(Assembly, ARigidArmActsLikeANodeAtItsEnd) {
    const Eigen::Vector3d arm(0.03, -0.05, 0.07);
    const Eigen::Vector3d force(100, -40, 250);
    StructureModel model = cantilever(column());
    const AssembledSystem system = assemble(model);
    const Eigen::Matrix3d far = point_compliance(system, {.node = 0, .arm = arm});

    // The same with a real, nearly rigid and weightless beam for an arm.
    model.nodes.emplace_back(Eigen::Vector3d(0, 0, 0.2) + arm);
    TestBeam rod{.section = solid_round(0.2, 0.29), .material = isotropic(205e13, 0.29, 1e-6)};
    add_beam(model, "arm", rod, {.node = 0}, {.node = 1});
    const Eigen::Matrix3d built = point_compliance(assemble(model), {.node = 1});
    EXPECT_LT((far - built).norm(), 1e-4 * far.norm());  // the rod's own give, 1e-4 of the column's
    EXPECT_GT((far * force).norm(), 0);
}

TEST(Assembly, ASquareColumnDoesNotCareWhichWayIsX) {
    TestBeam square = column();
    square.section = rectangle(0.05, 0.05, 0.29);
    StructureModel model = cantilever(square);
    const Eigen::Matrix3d straight = point_compliance(assemble(model), {.node = 0});
    for (const double angle : {0.3, 0.7853981634, 2.0}) {
        model.beams[0].section_y = Eigen::Vector3d(std::cos(angle), std::sin(angle), 0.4);
        const Eigen::Matrix3d turned = point_compliance(assemble(model), {.node = 0});
        EXPECT_LT((turned - straight).norm(), 1e-10 * straight.norm()) << angle;
    }
}

TEST(Assembly, TurningTheWholeModelTurnsItsCompliance) {
    const StructureModel model = small_stack();
    const MaterialPoint point{.node = 3, .arm = {0.01, 0.02, 0.03}};
    StructureModel held = model;
    held.joints[1].rotation.z() = 2e5;
    const Eigen::Matrix3d before = point_compliance(assemble(held), point);

    const Eigen::Matrix3d turn =
        Eigen::AngleAxisd(0.8, Eigen::Vector3d(1, 2, 3).normalized()).toRotationMatrix();
    StructureModel turned = held;
    for (auto& node : turned.nodes) node = turn * node;
    for (auto& run : turned.beams) run.section_y = turn * run.section_y;
    for (auto& joint : turned.joints) joint.axes = turn * joint.axes;
    for (auto& lump : turned.lumps) {
        lump.at.arm = turn * lump.at.arm;
        lump.inertia = turn * lump.inertia * turn.transpose();
    }
    const Eigen::Matrix3d after =
        point_compliance(assemble(turned), {.node = 3, .arm = turn * point.arm});
    EXPECT_LT((after - turn * before * turn.transpose()).norm(), 1e-9 * before.norm());
}

TEST(Assembly, RefusesModelsThatAreNotSoundAndNamesTheMember) {
    const auto message = [](const StructureModel& model) -> std::string {
        try {
            assemble(model);
        } catch (const std::domain_error& error) {
            return error.what();
        }
        return "accepted";
    };
    StructureModel gap = small_stack();
    gap.nodes[2].x() += 1e-4;
    EXPECT_NE(message(gap).find("part joint"), std::string::npos) << message(gap);
    StructureModel absent = small_stack();
    absent.beams[1].end.node = 9;
    EXPECT_NE(message(absent).find("part: node"), std::string::npos) << message(absent);
    StructureModel negative = small_stack();
    negative.joints[0].translation.x() = -1;
    EXPECT_NE(message(negative).find("table"), std::string::npos) << message(negative);
    StructureModel empty = small_stack();
    empty.beams[0].section.area = 0;
    EXPECT_NE(message(empty).find("riser"), std::string::npos) << message(empty);
    StructureModel lonely = small_stack();
    lonely.nodes.emplace_back(1, 1, 1);
    EXPECT_NE(message(lonely).find("node 4"), std::string::npos) << message(lonely);
    StructureModel along = small_stack();
    along.beams[0].section_y = Eigen::Vector3d::UnitZ();
    EXPECT_NE(message(along).find("riser"), std::string::npos) << message(along);
}

}  // namespace
}  // namespace standfast::test
