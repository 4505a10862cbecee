#include "fea/solution/give.hpp"

#include <gtest/gtest.h>

#include <stdexcept>

#include "fea/solution/statics.hpp"
#include "tests/support/beams.hpp"
#include "tests/support/published.hpp"

namespace standfast::test {
namespace {

const Material kSteel = isotropic(205e9, 0.29, 7850);

/// A riser of 0.2 m on a table, a part of 0.1 m on a joint.
StructureModel stack() {
    StructureModel model;
    model.nodes = {{0, 0, 0}, {0, 0, 0.2}, {0, 0, 0.2}, {0, 0, 0.3}};
    add_springs(model, "table", 0, {1e8, 1e8, 4e8}, {5e6, 5e6, 4e6});
    add_beam(model, "riser",
             {.section = rectangle(0.08, 0.06, 0.29), .material = kSteel, .elements = 3},
             {.node = 0}, {.node = 1});
    add_springs(model, "joint", 2, {2e8, 2e8, 8e8}, {4e5, 3e5, 4e5}, 1);
    add_beam(model, "part",
             {.section = rectangle(0.05, 0.04, 0.29), .material = kSteel, .elements = 3},
             {.node = 2}, {.node = 3});
    return model;
}

TEST(Give, SharesSumToOneAndMembersToTheDisplacement) {
    const AssembledSystem system = assemble(stack());
    const MaterialPoint point{.node = 3, .arm = {0.02, 0, -0.01}};
    const Eigen::Vector3d force(300, -120, 80);
    const Eigen::Vector3d direction = Eigen::Vector3d(1, 2, 0.5).normalized();
    EXPECT_NEAR(give_shares(system, point, force, direction).sum(), 1, 1e-12);
    const Eigen::Vector3d moved = point_compliance(system, point) * force;
    const Eigen::Vector3d summed = give_by_member(system, point, force).rowwise().sum();
    EXPECT_LT((summed - moved).norm(), 1e-9 * moved.norm());
}

// Superposition, by hand: lateral force P at the top of the part.
TEST(Give, EachMemberGivesWhatSuperpositionSays) {
    const AssembledSystem system = assemble(stack());
    const Eigen::Matrix3Xd give = give_by_member(system, {.node = 3}, {1, 0, 0});
    EXPECT_TRUE(within(give(0, 0), 1 / 1e8 + 0.3 * 0.3 / 5e6, 1e-9));  // table: slide and tilt
    EXPECT_TRUE(within(give(0, 2), 1 / 2e8 + 0.1 * 0.1 / 3e5, 1e-9));  // joint
    const Section riser = rectangle(0.08, 0.06, 0.29);
    const double bending = 205e9 * riser.second_moment_z;
    const double shear = riser.shear_coefficient_y * shear_modulus(kSteel) * riser.area;
    // From its foot, arms 0.3 and 0.1 to the force: (0.3^3 - 0.1^3) / (3 E I) + 0.2 / (kappa G A).
    EXPECT_TRUE(within(give(0, 1), (0.027 - 0.001) / (3 * bending) + 0.2 / shear, 1e-9));
}

TEST(Give, ASofterMemberGivesMoreAndARigidOneNothing) {
    AssembledSystem system = assemble(stack());
    const Eigen::Vector3d x = Eigen::Vector3d::UnitX();
    const double before = give_shares(system, {.node = 3}, x, x)[2];
    for (auto& parameter : system.stiffness) {
        if (parameter.member == 2) parameter.value /= 3;
    }
    EXPECT_GT(give_shares(system, {.node = 3}, x, x)[2], before);
    for (auto& parameter : system.stiffness) {
        if (parameter.member == 2) parameter.value *= 1e6;
    }
    EXPECT_LT(give_shares(system, {.node = 3}, x, x)[2], 1e-5);
}

TEST(Give, AMemberMayMoveThePointTheOtherWay) {
    // The sideways force pushes the table towards +x, while the upward force on its lever bends the
    // tower towards -x, further.
    StructureModel model;
    model.nodes = {{0, 0, 0}, {0, 0, 0.2}};
    add_springs(model, "table", 0, {1e7, 1e7, 1e9}, {1e9, 1e9, 1e9});
    add_beam(model, "tower",
             {.section = solid_round(0.03, 0.29), .material = kSteel, .elements = 3}, {.node = 0},
             {.node = 1});
    const MaterialPoint point{.node = 1, .arm = {0.1, 0, 0}};
    const Eigen::VectorXd shares = give_shares(assemble(model), point, {20, 0, 100}, {1, 0, 0});
    EXPECT_NEAR(shares.sum(), 1, 1e-12);
    EXPECT_LT(shares[0], 0);
    EXPECT_GT(shares[1], 1);
}

TEST(Give, NoForceMovesNothing) {
    const AssembledSystem system = assemble(stack());
    const Eigen::VectorXd shares =
        give_shares(system, {.node = 3}, Eigen::Vector3d::Zero(), Eigen::Vector3d::UnitX());
    EXPECT_EQ(shares.norm(), 0);
    EXPECT_THROW(give_shares(system, {.node = 3}, {1, 0, 0}, {2, 0, 0}), std::domain_error);
}

}  // namespace
}  // namespace standfast::test
