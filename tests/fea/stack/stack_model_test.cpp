#include "fea/stack/stack_model.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <stdexcept>

#include "fea/solution/modes.hpp"
#include "fea/solution/statics.hpp"
#include "fea/structure/assembly.hpp"
#include "tests/fea/stack/sample_stack.hpp"

namespace standfast {
namespace {

using sample::given_joint;
using sample::put_on_top;
using sample::solid_joint;
using sample::tier;

constexpr double kPi = std::numbers::pi;

Eigen::Matrix3d compliance(const Machine& machine, const Stack& stack, std::size_t index,
                           const Eigen::Vector3d& place) {
    const StackModel model = stack_model(machine, stack, {{index, {place.z()}}});
    return point_compliance(assemble(model.structure), point_on_tier(model, index, place));
}

/// Textbook bar: bending, shear, stretch and twist of a solid round, shear coefficient
/// 6(1+nu)/(7+6nu) (Cowper 1966, from memory).
struct RoundBar {
    double diameter, length;
    Material material = sample::steel_4140();

    double area() const { return kPi / 4 * diameter * diameter; }
    double second_moment() const { return kPi / 64 * std::pow(diameter, 4); }
    double twisting_constant() const { return kPi / 32 * std::pow(diameter, 4); }
    double e() const { return material.youngs_modulus; }
    double g() const { return shear_modulus(material); }
    double shear_coefficient() const {
        const double nu = material.poissons_ratio;
        return 6 * (1 + nu) / (7 + 6 * nu);
    }
    double tip_give() const {
        return std::pow(length, 3) / (3 * e() * second_moment()) +
               length / (shear_coefficient() * g() * area());
    }
    Tier as_tier(const std::string& name, const Joint& joint) const {
        return tier(name, material, RoundShape{diameter}, length, joint);
    }
};

/// A tower with an arm of the same round stock out of its side: the closed form of an L.
struct LShape {
    RoundBar tower{.diameter = 0.06, .length = 0.2};
    RoundBar arm{.diameter = 0.04, .length = 0.08};
    double reach() const { return tower.diameter / 2 + arm.length; }
    Stack stack() const {
        Stack stack;
        RoundBar taller = tower;
        taller.length = 0.3;
        stack.tiers.push_back(taller.as_tier("tower", solid_joint()));
        Tier side = arm.as_tier("arm", solid_joint());
        side.placement = {.host = 0,
                          .at = Eigen::Vector3d(tower.diameter / 2, 0, tower.length),
                          .lean = kPi / 2,
                          .heading = 0,
                          .spin = 0};
        stack.tiers.push_back(side);
        return stack;
    }
};

TEST(StackModel, APushAcrossAnArmTwistsAndBendsTheTower) {
    const LShape shape;
    const Eigen::Matrix3d give =
        compliance(sample::rigid_machine(), shape.stack(), 1, {0, 0, shape.arm.length});
    const double twist = shape.reach() * shape.reach() * shape.tower.length /
                         (shape.tower.g() * shape.tower.twisting_constant());
    const double expected = shape.tower.tip_give() + twist + shape.arm.tip_give();
    EXPECT_NEAR(give(1, 1), expected, 1e-6 * expected);
    EXPECT_GT(twist, 0.2 * expected) << "torsion matters in this case";
}

TEST(StackModel, APushDownOnAnArmBendsTheTowerByItsMoment) {
    const LShape shape;
    const Eigen::Matrix3d give =
        compliance(sample::rigid_machine(), shape.stack(), 1, {0, 0, shape.arm.length});
    const double tower_moment = shape.reach() * shape.reach() * shape.tower.length /
                                (shape.tower.e() * shape.tower.second_moment());
    const double squash = shape.tower.length / (shape.tower.e() * shape.tower.area());
    const double expected = tower_moment + squash + shape.arm.tip_give();
    EXPECT_NEAR(give(2, 2), expected, 1e-6 * expected);
    // Pushed down at its end the arm also moves away from the tower's line: reach h^2 / 2 E I.
    const double cross = -shape.reach() * shape.tower.length * shape.tower.length /
                         (2 * shape.tower.e() * shape.tower.second_moment());
    EXPECT_NEAR(give(0, 2), cross, 1e-6 * std::abs(cross));
}

TEST(StackModel, APushOnAWallTwistsTheTierByItsArm) {
    const RoundBar bar{.diameter = 0.05, .length = 0.2};
    Stack stack;
    stack.tiers.push_back(bar.as_tier("part", solid_joint()));
    const double arm = 0.025;
    const Eigen::Matrix3d give =
        compliance(sample::rigid_machine(), stack, 0, {arm, 0, bar.length});
    const double twist = arm * arm * bar.length / (bar.g() * bar.twisting_constant());
    EXPECT_NEAR(give(1, 1), bar.tip_give() + twist, 1e-6 * give(1, 1));
    EXPECT_NEAR(give(0, 0), bar.tip_give(), 1e-6 * give(0, 0));
}

TEST(StackModel, ASplitColumnBendsAsAWholeOne) {
    const RoundBar bar{.diameter = 0.05, .length = 0.2};
    Stack stack;
    stack.tiers.push_back(bar.as_tier("part", solid_joint()));
    const StackModel whole = stack_model(sample::rigid_machine(), stack);
    const StackModel split =
        stack_model(sample::rigid_machine(), stack, {{0, {0.031, 0.12, 0.12, 0.1201}}});
    EXPECT_GT(split.stations[0].size(), whole.stations[0].size());
    const AssembledSystem one = assemble(whole.structure), many = assemble(split.structure);
    const Eigen::Matrix3d a = point_compliance(one, point_on_tier(whole, 0, {0, 0, 0.2}));
    const Eigen::Matrix3d b = point_compliance(many, point_on_tier(split, 0, {0, 0, 0.2}));
    EXPECT_LT((a - b).norm(), 1e-8 * a.norm());
    EXPECT_NEAR(modes(one, 1)[0].frequency.hertz() / modes(many, 1)[0].frequency.hertz(), 1, 1e-3);
}

TEST(StackModel, ATaperedTowerMatchesTheClosedFormOfACone) {
    // Gere, Mechanics of Materials (tapered beam problem; from memory, checked by quadrature):
    // bending of a round cantilever 64 P L^3 / (3 pi E d_tip d_root^3); 0.00339199 m at 500 N for
    // 50 to 20 mm over 0.8 m of E = 205 GPa, and 7.2378e-6 m of shear.
    Stack stack;
    Tier cone = tier("cone", sample::steel_4140(), RoundShape{0.05}, 0.8, solid_joint());
    cone.top = RoundShape{0.02};
    stack.tiers.push_back(cone);
    for (const std::vector<double>& cuts : {std::vector<double>{}, {0.3, 0.55}}) {
        const StackModel model = stack_model(sample::rigid_machine(), stack, {{0, cuts}});
        const Eigen::Matrix3d give =
            point_compliance(assemble(model.structure), point_on_tier(model, 0, {0, 0, 0.8}));
        EXPECT_NEAR(500 * give(0, 0), 0.00339923, 2e-4 * 0.00339923) << cuts.size() << " cuts";
    }
}

TEST(StackModel, DoublingTheRiserMultipliesRockingGiveByFour) {
    // A stiff riser on a joint that rocks: common practice, no source; from (height)^2 / k.
    Material stiff = sample::steel_4140();
    stiff.youngs_modulus *= 1e6;
    const auto give = [&](double height) {
        Stack stack;
        stack.tiers.push_back(
            tier("riser", stiff, RoundShape{0.1}, height, given_joint(1e15, 1e15, 1e6, 1e9)));
        return compliance(sample::rigid_machine(), stack, 0, {0, 0, height})(0, 0);
    };
    EXPECT_NEAR(give(0.3) / give(0.15), 4, 1e-3);
}

TEST(StackModel, DoublingASlenderRiserMultipliesBendingGiveByEight) {
    // Common practice, no source; from L^3 / 3 E I. Shear leaves 0.2 % at 20 diameters.
    const auto give = [](double height) {
        Stack stack;
        stack.tiers.push_back(
            tier("riser", sample::steel_4140(), RoundShape{0.02}, height, solid_joint()));
        return compliance(sample::rigid_machine(), stack, 0, {0, 0, height})(0, 0);
    };
    EXPECT_NEAR(give(0.8) / give(0.4), 8, 0.02);
}

TEST(StackModel, ASquareStackDoesNotCareWhichWayIsX) {
    Stack stack;
    put_on_top(stack, tier("riser", sample::steel_4140(), BoxShape{0.1, 0.1, 0.015}, 0.15,
                           given_joint(5e8, 1e9, 2e6, 1e6)));
    put_on_top(stack, tier("part", sample::aluminium_6061(), BlockShape{0.06, 0.06}, 0.09,
                           given_joint(2e8, 4e8, 2e5, 1e5)));
    const Eigen::Matrix3d give = compliance(sample::rigid_machine(), stack, 1, {0, 0, 0.09});
    EXPECT_NEAR(give(0, 0), give(1, 1), 1e-10 * give(0, 0));
    EXPECT_NEAR(give(0, 1), 0, 1e-10 * give(0, 0));
}

TEST(StackModel, AFourSidedTowerIsTheSameOnAllSides) {
    Stack stack;
    stack.tiers.push_back(tier("tower", sample::steel_4140(), BlockShape{0.08, 0.08}, 0.25,
                               given_joint(5e8, 1e9, 2e6, 1e6)));
    for (int side = 0; side < 4; ++side) {
        Tier part = tier("part " + std::to_string(side), sample::aluminium_6061(),
                         BlockShape{0.05, 0.04}, 0.06, given_joint(2e8, 4e8, 2e5, 1e5));
        const double heading = side * kPi / 2;
        part.placement = {
            .host = 0,
            .at = Eigen::Vector3d(0.04 * std::cos(heading), 0.04 * std::sin(heading), 0.18),
            .lean = kPi / 2,
            .heading = heading,
            .spin = 0};
        stack.tiers.push_back(part);
    }
    const Eigen::Vector3d place(0.02, -0.01, 0.06);
    const StackModel model = stack_model(sample::rigid_machine(), stack);
    const AssembledSystem system = assemble(model.structure);
    const auto own_axes = [&](std::size_t index) -> Eigen::Matrix3d {
        const Eigen::Matrix3d& axes = model.frames[index].axes;
        return axes.transpose() * point_compliance(system, point_on_tier(model, index, place)) *
               axes;
    };
    const Eigen::Matrix3d first = own_axes(1);
    for (std::size_t index = 2; index <= 4; ++index) {
        EXPECT_LT((own_axes(index) - first).norm(), 1e-9 * first.norm()) << "side " << index;
    }
}

TEST(StackModel, ATailstockAddsItsStiffnessWhereItHolds) {
    // At the supported point the prop is a spring in parallel with the tower: 1 / (1 / c + k).
    Stack stack;
    stack.tiers.push_back(tier("tower", sample::steel_4140(), BlockShape{0.06, 0.04}, 0.3,
                               given_joint(2e8, 4e8, 1e6, 1e6)));
    const Machine machine = sample::rigid_machine();
    const double free = compliance(machine, stack, 0, {0, 0, 0.3})(0, 0);
    const double bare_hertz =
        modes(assemble(stack_model(machine, stack).structure), 1)[0].frequency.hertz();
    Support tailstock;
    tailstock.name = "tailstock";
    tailstock.at = {0, 0, 0.3};
    tailstock.given.lateral = std::array{5e7, 0.0};
    stack.supports.push_back(tailstock);
    const Eigen::Matrix3d held = compliance(machine, stack, 0, {0, 0, 0.3});
    EXPECT_NEAR(held(0, 0), 1 / (1 / free + 5e7), 1e-8 * held(0, 0));
    const Eigen::Matrix3d middle = compliance(machine, stack, 0, {0, 0, 0.15});
    stack.supports[0].given.lateral = std::array{5e7, 5e7};
    const AssembledSystem system = assemble(stack_model(machine, stack).structure);
    EXPECT_GT(modes(system, 1)[0].frequency.hertz(), 1.2 * bare_hertz);
    stack.supports.clear();
    EXPECT_LT(middle(0, 0), compliance(machine, stack, 0, {0, 0, 0.15})(0, 0));
}

TEST(StackModel, AStrutBetweenTwoTowersSharesThePush) {
    // Two towers a and b with a strut k along x between their tops: pushing a, the strut carries
    // c_a / (c_a + c_b + 1 / k) of the force across.
    Stack stack;
    stack.tiers.push_back(
        tier("a", sample::steel_4140(), BlockShape{0.06, 0.04}, 0.2, solid_joint()));
    Tier second = tier("b", sample::steel_4140(), RoundShape{0.05}, 0.25, solid_joint());
    second.placement.at = Eigen::Vector3d(0.2, 0, 0);
    stack.tiers.push_back(second);
    const Machine machine = sample::rigid_machine();
    const double a = compliance(machine, stack, 0, {0, 0, 0.2})(0, 0);
    const double b = compliance(machine, stack, 1, {0, 0, 0.2})(0, 0);
    Support strut;
    strut.name = "strut";
    strut.tier = 0;
    strut.at = {0, 0, 0.2};
    strut.against = 1;
    strut.given.lateral = std::array{3e7, 0.0};
    stack.supports.push_back(strut);
    // The strut ends on a rigid arm from b's axis, at the height of a's top: no lever in x.
    const double braced = compliance(machine, stack, 0, {0, 0, 0.2})(0, 0);
    EXPECT_NEAR(braced, a - a * a / (a + b + 1 / 3e7), 1e-8 * braced);
}

TEST(StackModel, ARigidBodyOnItsJointMatchesTheClosedForm) {
    // A rigid bar of 25 kg, 0.4 m, on a base spring of 4e7 N/m and 2e5 N m/rad: 59.5377 and
    // 416.854 Hz from the 2 x 2 eigenproblem; 8.25e-7 m/N at its top.
    Stack stack;
    Tier bar =
        tier("bar", sample::steel_4140(), RoundShape{0.05}, 0.4, given_joint(4e7, 1e12, 2e5, 1e9));
    bar.lump = RigidBody{.mass = 25,
                         .centre = {0, 0, 0.2},
                         .inertia = Eigen::Vector3d(1.0 / 3, 1.0 / 3, 0.05).asDiagonal()};
    stack.tiers.push_back(bar);
    const Machine machine = sample::rigid_machine();
    EXPECT_NEAR(compliance(machine, stack, 0, {0, 0, 0.4})(0, 0), 8.25e-7, 1e-9 * 8.25e-7);
    const std::vector<Mode> found = modes(assemble(stack_model(machine, stack).structure), 4);
    EXPECT_NEAR(found[0].frequency.hertz(), 59.5377, 1e-3);
    EXPECT_NEAR(found[1].frequency.hertz(), 59.5377, 1e-3);
    EXPECT_NEAR(found[2].frequency.hertz(), 416.854, 1e-2);
    EXPECT_NEAR(found[3].frequency.hertz(), 416.854, 1e-2);
}

TEST(StackModel, AWeightAtTheSideLowersTheFrequencyAndKeepsTheStiffness) {
    Stack stack;
    stack.tiers.push_back(tier("tower", sample::steel_4140(), BlockShape{0.06, 0.06}, 0.2,
                               given_joint(2e8, 4e8, 1e6, 1e6)));
    const Machine machine = sample::rigid_machine();
    const AssembledSystem bare = assemble(stack_model(machine, stack).structure);
    stack.tiers[0].side.push_back(
        {.name = "clamp", .mass = 2, .at = {0.05, 0, 0.15}, .size = {0.04, 0.04, 0.04}});
    const StackModel loaded_model = stack_model(machine, stack);
    const AssembledSystem loaded = assemble(loaded_model.structure);
    EXPECT_LT(modes(loaded, 1)[0].frequency.hertz(), modes(bare, 1)[0].frequency.hertz());
    const MassProperties mass = mass_properties(loaded_model.structure);
    const double own = 7850 * 0.06 * 0.06 * 0.2;
    EXPECT_NEAR(mass.mass, own + 2, 1e-9);
    EXPECT_NEAR(mass.centre.x(), 2 * 0.05 / (own + 2), 1e-9);
    EXPECT_NEAR(mass.centre.z(), (own * 0.1 + 2 * 0.15) / (own + 2), 1e-9);
}

TEST(StackModel, GiveGrowsWithScaleAsDimensionsSay) {
    // All lengths times s: forces per length of springs times s, moments times s^3, compliance
    // 1 / s, frequencies 1 / s. The modulus and all springs times e: compliance 1 / e.
    const auto build = [](double s, double e) {
        Material steel = sample::steel_4140();
        steel.youngs_modulus *= e;
        Stack stack;
        put_on_top(stack, tier("riser", steel, TubeShape{0.1 * s, 0.06 * s}, 0.15 * s,
                               given_joint(5e8 * s * e, 1e9 * s * e, 2e6 * s * s * s * e,
                                           1e6 * s * s * s * e)));
        put_on_top(stack, tier("part", steel, BlockShape{0.06 * s, 0.05 * s}, 0.09 * s,
                               given_joint(2e8 * s * e, 4e8 * s * e, 2e5 * s * s * s * e,
                                           1e5 * s * s * s * e)));
        return stack;
    };
    const Machine machine = sample::rigid_machine();
    const Eigen::Vector3d place(0.02, 0.01, 0.08);
    const Eigen::Matrix3d one = compliance(machine, build(1, 1), 1, place);
    for (const double s : {0.1, 25.4}) {
        const Eigen::Matrix3d scaled = compliance(machine, build(s, 1), 1, s * place);
        EXPECT_LT((s * scaled - one).norm(), 1e-9 * one.norm()) << s;
        const double f1 =
            modes(assemble(stack_model(machine, build(1, 1)).structure), 1)[0].frequency.hertz();
        const double fs =
            modes(assemble(stack_model(machine, build(s, 1)).structure), 1)[0].frequency.hertz();
        EXPECT_NEAR(fs * s / f1, 1, 1e-6) << s;
    }
    const Eigen::Matrix3d softer = compliance(machine, build(1, 0.5), 1, place);
    EXPECT_LT((0.5 * softer - one).norm(), 1e-9 * one.norm());
}

TEST(StackModel, ATableGivesUnderTheStackByItsSprings) {
    Machine machine = sample::rigid_machine();
    machine.table.rigid = false;
    machine.table.given = sample::numbers(1e8, 3e8, 4e6, 3e6);
    Stack stack;
    Tier riser = tier("riser", sample::steel_4140(), RoundShape{0.1}, 0.15, solid_joint());
    stack.tiers.push_back(riser);
    const double soft = compliance(machine, stack, 0, {0, 0, 0.15})(0, 0);
    const double hard = compliance(sample::rigid_machine(), stack, 0, {0, 0, 0.15})(0, 0);
    EXPECT_NEAR(soft - hard, 1 / 1e8 + 0.15 * 0.15 / 4e6, 1e-8 * soft);
    const StackModel model = stack_model(machine, stack);
    EXPECT_EQ(model.structure.members[0].name, "table");
    EXPECT_EQ(model.structure.members[0].kind, MemberKind::table);
}

TEST(StackModel, MembersAreNamedAfterTheTiers) {
    Machine machine = sample::rigid_machine();
    machine.table.rigid = false;
    machine.table.given = sample::numbers(1e8, 3e8, 4e6, 3e6);
    Stack stack;
    put_on_top(stack, tier("riser", sample::steel_4140(), RoundShape{0.1}, 0.15,
                           given_joint(5e8, 1e9, 2e6, 1e6)));
    put_on_top(stack,
               tier("part", sample::aluminium_6061(), BlockShape{0.06, 0.05}, 0.09, solid_joint()));
    std::vector<std::string> names;
    for (const Member& member : stack_model(machine, stack).structure.members) {
        names.push_back(member.name);
    }
    EXPECT_EQ(names,
              (std::vector<std::string>{"table", "riser joint", "riser", "part seat", "part"}));
}

TEST(StackModel, TheStateOfAPassPutsHeightAndSectionInPlace) {
    Stack stack;
    Tier cone = tier("part", sample::aluminium_6061(), RoundShape{0.06}, 0.1, solid_joint());
    cone.top = RoundShape{0.04};
    stack.tiers.push_back(cone);
    const Stack lower = in_state(stack, 0, {.shape = std::nullopt, .height = 0.05});
    EXPECT_DOUBLE_EQ(lower.tiers[0].height, 0.05);
    EXPECT_NEAR(width_x(*lower.tiers[0].top), 0.05, 1e-12) << "the cone is cut off half-way up";
    const Stack thinner = in_state(stack, 0, {.shape = BlockShape{0.02, 0.03}, .height = {}});
    EXPECT_FALSE(thinner.tiers[0].top);
    EXPECT_DOUBLE_EQ(width_y(thinner.tiers[0].shape), 0.03);
    EXPECT_THROW(in_state(stack, 1, {}), std::domain_error);
}

TEST(StackModel, AGuestFollowsTheTopOfAHostThatLostHeight) {
    Stack stack;
    put_on_top(stack, tier("part", sample::aluminium_6061(), RoundShape{0.06}, 0.1, solid_joint()));
    put_on_top(stack,
               tier("wall", sample::aluminium_6061(), BlockShape{0.04, 0.03}, 0.02, solid_joint()));
    const Stack lower = in_state(stack, 0, {.shape = std::nullopt, .height = 0.07});
    EXPECT_DOUBLE_EQ(tier_frames(lower)[1].foot.z(), 0.07);
}

TEST(StackModel, WhatIsLeftOutIsSaid) {
    const LShape shape;
    const StackModel model = stack_model(sample::rigid_machine(), shape.stack());
    ASSERT_EQ(model.notes.size(), 1U);
    EXPECT_NE(model.notes[0].text.find("left out"), std::string::npos);
    Stack wall;
    wall.tiers.push_back(
        tier("wall", sample::aluminium_6061(), BlockShape{0.06, 0.003}, 0.04, solid_joint()));
    const StackModel thin = stack_model(sample::rigid_machine(), wall);
    ASSERT_EQ(thin.notes.size(), 1U);
    EXPECT_NE(thin.notes[0].text.find("plate action"), std::string::npos);
}

TEST(StackModel, ACutBeyondTheTierIsRefused) {
    Stack stack;
    stack.tiers.push_back(
        tier("part", sample::aluminium_6061(), RoundShape{0.06}, 0.1, solid_joint()));
    const Machine machine = sample::rigid_machine();
    EXPECT_THROW(stack_model(machine, stack, {{0, {0.11}}}), std::domain_error);
    const StackModel model = stack_model(machine, stack);
    EXPECT_THROW(point_on_tier(model, 0, {0, 0, 0.11}), std::domain_error);
    EXPECT_THROW(point_on_tier(model, 0, {0, 0, -0.01}), std::domain_error);
    EXPECT_THROW(point_on_tier(model, 1, {0, 0, 0.05}), std::domain_error);
}

TEST(StackModel, AComplaintNamesTheTier) {
    Stack stack;
    stack.tiers.push_back(
        tier("riser", sample::steel_4140(), RoundShape{0.1}, 0.15, given_joint(5e8, 0, 2e6, 1e6)));
    try {
        stack_model(sample::rigid_machine(), stack);
        FAIL() << "a joint without vertical stiffness was accepted";
    } catch (const std::domain_error& error) {
        EXPECT_NE(std::string(error.what()).find("tier \"riser\""), std::string::npos)
            << error.what();
        EXPECT_NE(std::string(error.what()).find("vertical"), std::string::npos) << error.what();
    }
}

TEST(StackModel, ATableWithoutAnyStiffnessIsRefused) {
    Stack stack;
    stack.tiers.push_back(
        tier("riser", sample::steel_4140(), RoundShape{0.1}, 0.15, solid_joint()));
    EXPECT_THROW(stack_model(Machine{}, stack), std::domain_error);
}

}  // namespace
}  // namespace standfast
