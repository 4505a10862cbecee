#include "fea/solution/reduced_system.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "fea/solution/receptance.hpp"
#include "fea/solution/statics.hpp"
#include "fea/structure/section.hpp"

namespace standfast {
namespace {

const Material kSteel{.name = "steel",
                      .youngs_modulus = 205e9,
                      .poissons_ratio = 0.29,
                      .density = 7850,
                      .loss_factor = 5e-4};

/// Ground, joint, column, joint, column: a riser and a part in its dovetail.
StructureModel two_tiers() {
    StructureModel model;
    model.members = {{.name = "riser joint", .kind = MemberKind::tier_joint},
                     {.name = "riser", .kind = MemberKind::tier},
                     {.name = "part joint", .kind = MemberKind::tier_joint},
                     {.name = "part", .kind = MemberKind::tier}};
    for (const double height : {0.0, 0.15, 0.15, 0.25}) {
        model.nodes.emplace_back(0, 0, height);
    }
    const auto joint = [](int member, int below, int above, double lateral, double tilting,
                          const char* group) {
        return JointElement{.member = member,
                            .below = {.node = below, .arm = Eigen::Vector3d::Zero()},
                            .above = {.node = above, .arm = Eigen::Vector3d::Zero()},
                            .axes = Eigen::Matrix3d::Identity(),
                            .translation = {lateral, 1.2 * lateral, 2.5 * lateral},
                            .rotation = {tilting, 1.5 * tilting, tilting},
                            .loss_factor = 0.03,
                            .stiffness_spread = {.group = group, .factor = 2},
                            .loss_spread = {.group = std::string(group) + " loss", .factor = 2}};
    };
    model.joints = {joint(0, kGround, 0, 6e8, 1.2e6, "bolted"),
                    joint(2, 1, 2, 2e8, 8e4, "dovetail")};
    const auto beam = [](int member, int start, int end, double diameter) {
        return BeamRun{.member = member,
                       .start = {.node = start, .arm = Eigen::Vector3d::Zero()},
                       .end = {.node = end, .arm = Eigen::Vector3d::Zero()},
                       .section = solid_round(diameter, kSteel.poissons_ratio),
                       .taper = {},
                       .material = kSteel,
                       .modulus_spread = {.group = "modulus", .factor = 1.02},
                       .loss_spread = {.group = "steel loss", .factor = 3}};
    };
    model.beams = {beam(1, 0, 1, 0.1), beam(3, 2, 3, 0.06)};
    return model;
}

AssembledSystem with_factors(AssembledSystem system, const GroupFactor& factor) {
    for (StiffnessParameter& parameter : system.stiffness) {
        parameter.value *= factor(parameter.stiffness_spread.group) *
                           std::pow(factor(parameter.split_spread.group), parameter.split_power);
        parameter.loss_factor *= factor(parameter.loss_spread.group);
    }
    for (MassParameter& parameter : system.mass) parameter.value *= factor(parameter.spread.group);
    return system;
}

struct Fixture {
    AssembledSystem system = assemble(two_tiers());
    MaterialPoint top{.node = 3, .arm = {0.02, 0.01, 0}};
    std::vector<Mode> nominal = modes(system, 10);
    ReducedSystem reduced = reduced_system(system, nominal, top);
};

TEST(ReducedSystem, NominalReceptanceIsThatOfTheFullSystem) {
    const Fixture given;
    const ModalReceptance full = modal_receptance(given.system, given.nominal, given.top);
    const ModalReceptance drawn =
        receptance_of_draw(given.reduced, [](const std::string&) { return 1.0; });
    ASSERT_EQ(drawn.terms.size(), full.terms.size());
    for (std::size_t mode = 0; mode < full.terms.size(); ++mode) {
        EXPECT_NEAR(drawn.terms[mode].frequency.hertz(), full.terms[mode].frequency.hertz(),
                    1e-7 * full.terms[mode].frequency.hertz());
        EXPECT_NEAR(drawn.terms[mode].damping_ratio, full.terms[mode].damping_ratio, 1e-8);
    }
    EXPECT_LT((static_compliance(drawn) - static_compliance(full)).norm(),
              1e-6 * static_compliance(full).norm());
}

TEST(ReducedSystem, FollowsTheFullSystemWhenAllGroupsMoveTogether) {
    const Fixture given;
    const std::vector<std::pair<double, double>> factors{
        {0.4, 2.2}, {2.5, 0.35}, {0.45, 0.45}, {2.2, 2.2}, {1.3, 0.8}};
    for (const auto& [bolted, dovetail] : factors) {
        const GroupFactor factor = [bolted = bolted,
                                    dovetail = dovetail](const std::string& group) {
            if (group == "bolted") return bolted;
            if (group == "dovetail") return dovetail;
            return group == "modulus" ? 1.02 : 0.7;
        };
        const AssembledSystem moved = with_factors(given.system, factor);
        const std::vector<Mode> full = modes(moved, 10);
        const ModalReceptance drawn = receptance_of_draw(given.reduced, factor);
        for (std::size_t mode = 0; mode < 5; ++mode) {
            EXPECT_NEAR(drawn.terms[mode].frequency.hertz(), full[mode].frequency.hertz(),
                        0.005 * full[mode].frequency.hertz())
                << "mode " << mode << ", bolted x " << bolted << ", dovetail x " << dovetail;
            EXPECT_NEAR(drawn.terms[mode].damping_ratio, full[mode].damping_ratio,
                        0.01 * full[mode].damping_ratio)
                << "mode " << mode;
        }
        const Eigen::Matrix3d exact = point_compliance(moved, given.top);
        EXPECT_LT((static_compliance(drawn) - exact).norm(), 0.005 * exact.norm());
    }
}

TEST(ReducedSystem, FollowsAMassAndAxesThatAreDrawnApart) {
    StructureModel model = two_tiers();
    model.joints[0].split_spread = {.group = "split", .factor = 1.2};
    model.lumps.push_back({.member = 0,
                           .at = {.node = 0, .arm = {0, 0, 0.02}},
                           .mass = 12,
                           .inertia = Eigen::Vector3d(0.05, 0.05, 0.08).asDiagonal(),
                           .spread = {.group = "nose", .factor = 1.6}});
    const AssembledSystem system = assemble(model);
    const MaterialPoint top{.node = 3, .arm = {0.02, 0.01, 0}};
    const ReducedSystem reduced = reduced_system(system, modes(system, 10), top);
    for (const auto& [mass, split] :
         {std::pair{0.4, 1.4}, std::pair{2.5, 0.75}, std::pair{1., 1.5}}) {
        const GroupFactor factor = [mass = mass, split = split](const std::string& group) {
            if (group == "nose") return mass;
            if (group == "split") return split;
            return 1.0;
        };
        const AssembledSystem moved = with_factors(system, factor);
        const std::vector<Mode> full = modes(moved, 6);
        const ModalReceptance drawn = receptance_of_draw(reduced, factor);
        for (std::size_t mode = 0; mode < 5; ++mode) {
            EXPECT_NEAR(drawn.terms[mode].frequency.hertz(), full[mode].frequency.hertz(),
                        0.005 * full[mode].frequency.hertz())
                << "mode " << mode << ", mass x " << mass << ", split x " << split;
        }
        const Eigen::Matrix3d exact = point_compliance(moved, top);
        EXPECT_LT((static_compliance(drawn) - exact).norm(), 0.005 * exact.norm());
    }
}

// Of one body on springs sideways the split is the ratio of the two frequencies; their geometric
// mean stays.
TEST(ReducedSystem, ASplitIsTheRatioOfTheFrequenciesAlongXAndY) {
    StructureModel model;
    model.nodes.emplace_back(0, 0, 0);
    model.members = {{.name = "spindle", .kind = MemberKind::spindle}};
    model.joints = {{.member = 0,
                     .below = {},
                     .above = {.node = 0, .arm = Eigen::Vector3d::Zero()},
                     .translation = {6e7, 6e7, 1e12},
                     .rotation = {1e12, 1e12, 1e12},
                     .split_spread = {.group = "split", .factor = 1.186}}};
    model.lumps = {{.member = 0,
                    .at = {.node = 0, .arm = Eigen::Vector3d::Zero()},
                    .mass = 2.5,
                    .inertia = 0.01 * Eigen::Matrix3d::Identity()}};
    const AssembledSystem system = assemble(model);
    const MaterialPoint nose{.node = 0, .arm = Eigen::Vector3d::Zero()};
    const ReducedSystem reduced = reduced_system(system, modes(system, 6), nose);
    const ModalReceptance drawn = receptance_of_draw(
        reduced, [](const std::string& group) { return group == "split" ? 1.3 : 1.0; });
    const double mean = std::sqrt(6e7 / 2.5);
    EXPECT_NEAR(drawn.terms[0].frequency.radians_per_second, mean / std::sqrt(1.3), 1e-6 * mean);
    EXPECT_NEAR(drawn.terms[1].frequency.radians_per_second, mean * std::sqrt(1.3), 1e-6 * mean);
    EXPECT_GT(std::abs(drawn.terms[1].shape.x()), 100 * std::abs(drawn.terms[1].shape.y()));
}

TEST(ReducedSystem, IsSmall) {
    const Fixture given;
    EXPECT_LT(given.reduced.at_points.cols(), 45);
    EXPECT_LT(given.reduced.at_points.cols(), given.system.size);
}

TEST(ReducedSystem, NamesEveryUncertainGroupOnce) {
    const Fixture given;
    const std::vector<Spread> groups = spread_groups(given.system);
    ASSERT_EQ(groups.size(), 6U);
    EXPECT_EQ(groups[0].group, "modulus");
}

}  // namespace
}  // namespace standfast
