#include "fea/stack/joint_stiffness.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <stdexcept>

#include "fea/structure/contact_stiffness.hpp"
#include "materials/load_catalogue.hpp"
#include "tests/fea/stack/sample_stack.hpp"

namespace standfast {
namespace {

constexpr double kDegree = std::numbers::pi / 180;

JointFace face(const SectionShape& shape) {
    return {.shape = shape, .material = sample::steel_4140()};
}

const JointFace kPlate = face(BlockShape{.x = 0.2, .y = 0.16});

Joint preloaded(double force) {
    Joint joint;
    joint.kind = sample::per_area_kind("bolted", 5e10, 1.3e11);
    joint.preload = force;
    return joint;
}

double largest_ratio(const ResolvedJoint& joint, const ResolvedJoint& median) {
    return std::max(joint.translation.cwiseQuotient(median.translation).maxCoeff(),
                    joint.rotation.cwiseQuotient(median.rotation).maxCoeff());
}

TEST(JointStiffness, TheCatalogueScalesWithTheFootprint) {
    Joint joint;
    joint.kind = sample::per_area_kind("bolted", 5e10, 1.3e11);
    const ResolvedJoint small = resolve_stack_joint(joint, kPlate, face(BlockShape{0.05, 0.04}));
    const ResolvedJoint large = resolve_stack_joint(joint, kPlate, face(BlockShape{0.10, 0.08}));
    EXPECT_EQ(small.basis, JointBasis::catalogue);
    EXPECT_NEAR(large.translation.x() / small.translation.x(), 4, 1e-12);
    EXPECT_NEAR(large.translation.z() / small.translation.z(), 4, 1e-12);
    EXPECT_NEAR(large.rotation.x() / small.rotation.x(), 16, 1e-12);
    EXPECT_NEAR(large.rotation.z() / small.rotation.z(), 16, 1e-12);
    EXPECT_GT(small.rotation.y(), small.rotation.x()) << "harder to rock about the short way";
}

TEST(JointStiffness, ADovetailRocksMoreEasilyAboutItsLength) {
    Joint joint;
    joint.kind = sample::per_area_kind("dovetail", 1e11, 4.5e11);
    joint.dovetail =
        Dovetail{.length = 0.06, .width = 0.032, .flank = 60 * kDegree, .depth = 0.004};
    const ResolvedJoint held = resolve_stack_joint(joint, kPlate, kPlate);
    EXPECT_NEAR(held.rotation.y() / held.rotation.x(), std::pow(0.06 / 0.032, 2), 1e-9);
}

TEST(JointStiffness, NumbersGivenWinComponentByComponent) {
    Joint joint;
    joint.kind = sample::per_area_kind("bolted", 5e10, 1.3e11);
    const ResolvedJoint median = resolve_stack_joint(joint, kPlate, kPlate);
    joint.given.lateral = std::array{9e7, 7e7};
    joint.given.loss = 0.05;
    const ResolvedJoint mixed = resolve_stack_joint(joint, kPlate, kPlate);
    EXPECT_DOUBLE_EQ(mixed.translation.x(), 9e7);
    EXPECT_DOUBLE_EQ(mixed.translation.y(), 7e7);
    EXPECT_DOUBLE_EQ(mixed.translation.z(), median.translation.z());
    EXPECT_EQ(mixed.rotation, median.rotation);
    EXPECT_DOUBLE_EQ(mixed.loss_factor, 0.05);
    EXPECT_EQ(mixed.stiffness_spread.group, "joint stiffness: bolted");
}

TEST(JointStiffness, AJointGivenOutrightIsNearlyCertain) {
    const ResolvedJoint joint =
        resolve_stack_joint(sample::given_joint(9e7, 4e8, 3e5, 2e5), kPlate, kPlate);
    EXPECT_EQ(joint.basis, JointBasis::given);
    EXPECT_LT(joint.stiffness_spread.factor, 1.2);
    Joint wide = sample::given_joint(9e7, 4e8, 3e5, 2e5);
    wide.stiffness_spread = 1.7;
    EXPECT_DOUBLE_EQ(resolve_stack_joint(wide, kPlate, kPlate).stiffness_spread.factor, 1.7);
}

TEST(JointStiffness, AFittedFactorScalesEverySpringAndTheLoss) {
    Joint joint;
    joint.kind = sample::per_area_kind("bolted", 5e10, 1.3e11);
    const ResolvedJoint before = resolve_stack_joint(joint, kPlate, kPlate);
    joint.stiffness_adjust = 0.6;
    joint.loss_adjust = 2;
    const ResolvedJoint after = resolve_stack_joint(joint, kPlate, kPlate);
    EXPECT_NEAR((after.translation - 0.6 * before.translation).norm(), 0, 1e-3);
    EXPECT_NEAR((after.rotation - 0.6 * before.rotation).norm(), 0, 1e-3);
    EXPECT_NEAR(after.loss_factor, 2 * before.loss_factor, 1e-15);
}

TEST(JointStiffness, ALightlyPressedFaceFollowsTheContactLaw) {
    const ResolvedJoint held = resolve_stack_joint(preloaded(2e3), kPlate, kPlate);
    EXPECT_EQ(held.basis, JointBasis::contact_law);
    EXPECT_NEAR(held.pressure, 2e3 / (0.2 * 0.16), 1e-6);
}

TEST(JointStiffness, BeyondItsDataTheContactLawIsNotUsed) {
    const double limit = kContactPressureLimit * 0.2 * 0.16;
    EXPECT_EQ(resolve_stack_joint(preloaded(0.99 * limit), kPlate, kPlate).basis,
              JointBasis::contact_law);
    const ResolvedJoint hard = resolve_stack_joint(preloaded(1.01 * limit), kPlate, kPlate);
    EXPECT_EQ(hard.basis, JointBasis::catalogue);
    EXPECT_TRUE(hard.too_hard);
    EXPECT_NEAR(hard.translation.x(), 5e10 * 0.2 * 0.16, 1);
}

TEST(JointStiffness, PressingHarderNeverSoftensAJoint) {
    Joint joint = preloaded(1);
    joint.kind.upper_factor = 1e6;  // no bound: the law itself
    double before = 0;
    for (double force = 10; force < 0.9 * kContactPressureLimit * 0.2 * 0.16; force *= 1.7) {
        joint.preload = force;
        const double now = resolve_stack_joint(joint, kPlate, kPlate).rotation.x();
        EXPECT_GT(now, before) << force;
        before = now;
    }
}

TEST(JointStiffness, TheBodiesThemselvesGiveUnderAContactHoweverHardItIsPressed) {
    // Local give in series: two half-spaces cap a small hard contact. For a rigid disc of radius
    // r on a half-space the stiffness is 4 G r / (1 - nu) (textbook), so two in series: half.
    Joint joint = preloaded(0.9 * kContactPressureLimit * 0.2 * 0.16);
    joint.kind.upper_factor = 1e6;
    const Material steel = sample::steel_4140();
    const double radius = std::sqrt(0.2 * 0.16 / std::numbers::pi);
    const double cap = 4 * shear_modulus(steel) * radius / (1 - steel.poissons_ratio) / 2;
    const ResolvedJoint held = resolve_stack_joint(joint, kPlate, kPlate);
    EXPECT_LT(held.translation.z(), cap);
    EXPECT_GT(held.translation.z(), 0.2 * cap);
    JointFace soft = kPlate;
    soft.material = sample::aluminium_6061();
    EXPECT_LT(resolve_stack_joint(joint, kPlate, soft).translation.z(), held.translation.z());
}

TEST(JointStiffness, NoComputedJointIsStifferThanTheCataloguesBound) {
    // Integrated over a whole footprint the contact law makes joints ten times too stiff. No
    // clamp, on any kind of the catalogue, may pass its upper bound, nor ten times the median.
    for (const JointKind& kind : built_in_catalogue().joints) {
        if (kind.use != JointUse::stack || kind.scaling != JointScaling::per_area) continue;
        EXPECT_LE(kind.upper_factor, 10) << kind.name;
        Joint bare;
        bare.kind = kind;
        for (double clamp = 10; clamp < 1e6; clamp *= 2) {
            Joint whole = bare, tail = bare, jaws = bare, screws = bare;
            whole.preload = clamp;
            tail.dovetail = Dovetail{.length = 0.06,
                                     .width = 0.032,
                                     .flank = 60 * kDegree,
                                     .depth = 0.004,
                                     .clamp = clamp};
            jaws.jaws = Jaws{.length = 0.1, .width = 0.05, .grip = 0.01, .clamp = clamp};
            screws.screws = Screws{.count = 4, .diameter = 0.012};
            screws.preload = clamp;
            for (const Joint* joint : {&whole, &tail, &jaws, &screws}) {
                Joint median = *joint;
                median.preload.reset();
                if (median.dovetail) median.dovetail->clamp.reset();
                if (median.jaws) median.jaws->clamp.reset();
                const double ratio = largest_ratio(resolve_stack_joint(*joint, kPlate, kPlate),
                                                   resolve_stack_joint(median, kPlate, kPlate));
                EXPECT_LE(ratio, kind.upper_factor * (1 + 1e-12))
                    << kind.name << " at " << clamp << " N";
            }
        }
    }
}

TEST(JointStiffness, TheCataloguesMediansAreJointsAShopWouldRecognise) {
    // Bolted or vised workpiece joints: 100 to 1000 N/um sideways, whole joint (common practice,
    // a factor 2 either way, no source).
    const Catalogue& catalogue = built_in_catalogue();
    const auto lateral = [&](const char* name, Joint joint, const SectionShape& foot) {
        joint.kind = *find_joint(catalogue, name, JointUse::stack);
        return resolve_stack_joint(joint, kPlate, face(foot)).translation.x();
    };
    Joint tail;
    tail.dovetail = Dovetail{.length = 0.06, .width = 0.032, .flank = 60 * kDegree, .depth = 0.004};
    Joint vice;
    vice.jaws = Jaws{.length = 0.1, .width = 0.05, .grip = 0.006};
    for (const double stiffness : {lateral("bolted", {}, RoundShape{0.1016}),
                                   lateral("dovetail", tail, BlockShape{0.07, 0.05}),
                                   lateral("vice", vice, BlockShape{0.1, 0.05})}) {
        EXPECT_GT(stiffness, 100e6 / 2);
        EXPECT_LT(stiffness, 1000e6 * 2);
    }
}

TEST(JointStiffness, ASolidJointHasNoSpringsToModel) {
    EXPECT_EQ(resolve_stack_joint(sample::solid_joint(), kPlate, kPlate).basis, JointBasis::solid);
    EXPECT_EQ(resolve_tool_joint(sample::solid_joint(), 0.012).basis, JointBasis::solid);
}

TEST(JointStiffness, AJointThatNobodyDescribedIsRefused) {
    EXPECT_THROW(resolve_stack_joint(Joint{}, kPlate, kPlate), std::domain_error);
    EXPECT_THROW(resolve_tool_joint(Joint{}, 0.012), std::domain_error);
    Joint negative = sample::given_joint(9e7, 4e8, 3e5, 2e5);
    negative.given.vertical = -4e8;
    EXPECT_THROW(resolve_stack_joint(negative, kPlate, kPlate), std::domain_error);
}

TEST(JointStiffness, AGripIsNoJointBetweenTiersNorABoltedJointAGrip) {
    Joint grip, bolted;
    grip.kind = *find_joint(built_in_catalogue(), "shrink", JointUse::grip);
    bolted.kind = *find_joint(built_in_catalogue(), "bolted", JointUse::stack);
    EXPECT_THROW(resolve_stack_joint(grip, kPlate, kPlate), std::domain_error);
    EXPECT_THROW(resolve_tool_joint(bolted, 0.012), std::domain_error);
}

TEST(JointStiffness, ASupportHoldsOnlyWhereItSays) {
    JointNumbers jack;
    jack.vertical = 8e7;
    const ResolvedJoint springs = resolve_springs(jack, {}, "jack");
    EXPECT_EQ(springs.translation, Eigen::Vector3d(0, 0, 8e7));
    EXPECT_EQ(springs.rotation, Eigen::Vector3d::Zero());
}

}  // namespace
}  // namespace standfast
