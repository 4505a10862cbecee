#include "fea/stack/clamped_zone.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <stdexcept>

#include "fea/stack/screw_cones.hpp"

namespace standfast {
namespace {

constexpr double kDegree = std::numbers::pi / 180;
const SectionShape kPlate = BlockShape{.x = 0.2, .y = 0.16};

TEST(ClampedZone, AWholeFaceAddsUpToThePublishedJoint) {
    // Ground cast-iron joint 200 x 160 mm under 2 MPa: k_n = 1.36267e12, k_t = 5.21022e11 N/m^3;
    // 4.36056e10 and 1.66727e10 N/m, 9.30252e7 and 1.45352e8 N m/rad tilting, 9.11442e7 N m/rad
    // twisting. Law: Ito, Modular Design for Machine Tools (2008), table 6-2; sums recomputed.
    Joint joint;
    joint.preload = 2e6 * 0.2 * 0.16;
    const std::optional<ClampedZone> zone = clamped_zone(joint, kPlate, kPlate);
    ASSERT_TRUE(zone);
    EXPECT_NEAR(zone->pressure, 2e6, 1e-6);
    const ZoneStiffness sum = zone_stiffness(*zone, 1.36267e12, 5.21022e11);
    EXPECT_NEAR(sum.translation.z(), 4.36056e10, 1e-5 * 4.36056e10);
    EXPECT_NEAR(sum.translation.x(), 1.66727e10, 1e-5 * 1.66727e10);
    EXPECT_NEAR(sum.rotation.x(), 9.30252e7, 1e-5 * 9.30252e7);
    EXPECT_NEAR(sum.rotation.y(), 1.45352e8, 1e-5 * 1.45352e8);
    EXPECT_NEAR(sum.rotation.z(), 9.11442e7, 1e-5 * 9.11442e7);
}

TEST(ClampedZone, AWedgeWithoutFrictionSeatsAsItsFlankSays) {
    // Seating force per clamp force 1 / tan(flank + atan mu): 1.0000 at 45 deg without friction,
    // 0.3383 at 60 deg with 0.2 (statics of a wedge). Force on the flank from the same balance.
    struct Row {
        double flank, friction, seating;
    };
    for (const Row& row : {Row{45, 0.0, 1.0}, Row{60, 0.0, 0.5774}, Row{60, 0.2, 0.3383}}) {
        Joint joint;
        joint.friction = row.friction;
        joint.dovetail = Dovetail{.length = 0.06,
                                  .width = 0.032,
                                  .flank = row.flank * kDegree,
                                  .depth = 0.004,
                                  .clamp = 1000.0};
        const std::optional<ClampedZone> zone = clamped_zone(joint, kPlate, kPlate);
        ASSERT_TRUE(zone);
        double area = 0;
        for (const ContactPatch& patch : zone->patches) area += patch.bearing * patch.area();
        // Horizontal balance: clamp = N (sin + mu cos), so both flanks carry 2 N.
        const double flank = row.flank * kDegree;
        const double flanks = 2 * 1000 / (std::sin(flank) + row.friction * std::cos(flank));
        EXPECT_NEAR(zone->pressure * area - flanks, 2 * 1000 * row.seating, 0.1) << row.flank;
    }
}

TEST(ClampedZone, OnlyFlanksAndSeatOfADovetailArePressed) {
    Joint joint;
    joint.dovetail = Dovetail{
        .length = 0.06, .width = 0.032, .flank = 60 * kDegree, .depth = 0.004, .clamp = 18e3};
    const std::optional<ClampedZone> zone = clamped_zone(joint, kPlate, kPlate);
    ASSERT_TRUE(zone);
    EXPECT_EQ(zone->patches.size(), 3U);
    EXPECT_LT(zone_footprint(*zone).area, 0.1 * 0.2 * 0.16);
    EXPECT_GT(zone->pressure, 2.5e6) << "an ordinary clamp is beyond the contact law's data";
}

TEST(ClampedZone, ConesUnderScrewsAreFarSmallerThanThePlate) {
    Joint joint;
    joint.screws = Screws{.count = 4, .diameter = 0.012, .torque = 85.0};
    const std::optional<ClampedZone> zone = clamped_zone(joint, kPlate, kPlate);
    ASSERT_TRUE(zone);
    EXPECT_LT(zone_footprint(*zone).area, 0.2 * 0.2 * 0.16);
    // M12 at 85 N m pulls with about 35 kN at a nut factor of 0.2: common practice, no source.
    EXPECT_NEAR(zone->pressure * zone_footprint(*zone).area, 4 * 35.4e3, 0.01 * 4 * 35.4e3);
    EXPECT_GT(zone->pressure, 2.5e6);
}

TEST(ClampedZone, AGivenPreloadWinsOverTorque) {
    Joint joint;
    joint.screws = Screws{.count = 4, .diameter = 0.012, .torque = 85.0};
    joint.preload = 50e3;
    const std::optional<ClampedZone> zone = clamped_zone(joint, kPlate, kPlate);
    EXPECT_NEAR(zone->pressure * zone_footprint(*zone).area, 50e3, 1);
}

TEST(ClampedZone, WithoutClampDataNothingIsKnown) {
    Joint joint;
    EXPECT_FALSE(clamped_zone(joint, kPlate, kPlate));
    joint.dovetail = Dovetail{.length = 0.06, .width = 0.03, .flank = 1, .depth = 0.004};
    EXPECT_FALSE(clamped_zone(joint, kPlate, kPlate));
    joint.dovetail.reset();
    joint.jaws = Jaws{.length = 0.1, .width = 0.05, .grip = 0.004};
    EXPECT_FALSE(clamped_zone(joint, kPlate, kPlate));
    joint.jaws.reset();
    joint.screws = Screws{.count = 4, .diameter = 0.012};
    EXPECT_FALSE(clamped_zone(joint, kPlate, kPlate));
}

TEST(ClampedZone, JawsPressOnTwoStripsAcrossTheHeldWidth) {
    Joint joint;
    joint.jaws = Jaws{.length = 0.1, .width = 0.05, .grip = 0.004, .clamp = 25e3};
    const std::optional<ClampedZone> zone = clamped_zone(joint, kPlate, kPlate);
    ASSERT_TRUE(zone);
    EXPECT_NEAR(zone->pressure, 25e3 / (0.1 * 0.004), 1);
    // Jaws hold by friction along x and z, by pressure along y.
    const ZoneStiffness sum = zone_stiffness(*zone, 2e12, 1e12);
    EXPECT_NEAR(sum.translation.y(), 2 * sum.translation.x(), 1e-6 * sum.translation.y());
    EXPECT_NEAR(sum.translation.z(), sum.translation.x(), 1e-6 * sum.translation.x());
}

TEST(ClampedZone, ASmallerFaceOnALargerOneIsTheFootprint) {
    const Joint joint;
    const SectionShape tube = TubeShape{.outer = 0.11, .inner = 0.07};
    EXPECT_NEAR(joint_footprint(joint, kPlate, tube).area, material_area(tube), 1e-15);
    EXPECT_NEAR(joint_footprint(joint, tube, kPlate).area, material_area(tube), 1e-15);
    const SectionShape along = BlockShape{.x = 0.3, .y = 0.05},
                       across = BlockShape{.x = 0.05, .y = 0.3};
    EXPECT_NEAR(joint_footprint(joint, along, across).area, 0.05 * 0.05, 1e-15);
}

TEST(ClampedZone, WithoutItsSeatADovetailHangsInItsFlanks) {
    Joint joint;
    joint.dovetail = Dovetail{.length = 0.06,
                              .width = 0.032,
                              .flank = 60 * kDegree,
                              .depth = 0.004,
                              .clamp = 18e3,
                              .seat = false};
    const std::optional<ClampedZone> zone = clamped_zone(joint, kPlate, kPlate);
    ASSERT_TRUE(zone);
    EXPECT_EQ(zone->form, ZoneForm::flanks);
    EXPECT_EQ(zone->patches.size(), 2U);
}

TEST(ClampedZone, AWiderScrewCircleRocksLess) {
    Joint joint;
    joint.screws = Screws{.count = 4, .diameter = 0.012, .torque = 85.0};
    const auto moment = [&](double circle) {
        joint.screws->circle = circle;
        return zone_footprint(*clamped_zone(joint, kPlate, kPlate)).second_moment_x;
    };
    // Full cones, four of them: area x (circle^2/8 + own), by hand.
    const double area = 4 * std::numbers::pi / 4 * (0.0384 * 0.0384 - 0.0132 * 0.0132);
    const double own = (0.0384 * 0.0384 + 0.0132 * 0.0132) / 16;
    EXPECT_NEAR(moment(0.076), area * (0.076 * 0.076 / 8 + own), 2e-3 * moment(0.076));
    EXPECT_NEAR(moment(0.12), area * (0.12 * 0.12 / 8 + own), 2e-3 * moment(0.12));
}

TEST(ClampedZone, AScrewCircleBesideTheFaceIsRefused) {
    Joint joint;
    joint.screws = Screws{.count = 4, .diameter = 0.012, .torque = 85.0, .circle = 0.5};
    EXPECT_THROW(clamped_zone(joint, kPlate, kPlate), std::domain_error);
}

TEST(ClampedZone, ScrewsStandNearTheEdgeWhereNobodySaysWhere) {
    // A round foot of 100 mm on M12 has its screws on about 70 to 76 mm: common practice.
    const Screws screws{.count = 4, .diameter = 0.012};
    const SectionShape foot = RoundShape{.diameter = 0.1};
    for (const Eigen::Vector2d& place : screw_places(screws, kPlate, foot)) {
        EXPECT_GT(2 * place.norm(), 0.066);
        EXPECT_LT(2 * place.norm(), 0.08);
    }
    const SectionShape tube = TubeShape{.outer = 0.11, .inner = 0.07};
    for (const Eigen::Vector2d& place : screw_places(screws, kPlate, tube)) {
        EXPECT_NEAR(place.norm(), 0.045, 1e-12);
    }
    const std::vector<Eigen::Vector2d> corners =
        screw_places(screws, kPlate, BlockShape{.x = 0.08, .y = 0.06});
    EXPECT_NEAR(corners.front().x(), 0.025, 1e-12);
    EXPECT_NEAR(corners.front().y(), 0.015, 1e-12);
}

TEST(ClampedZone, CrowdedConesDoNotCountTwice) {
    Joint joint;
    joint.screws = Screws{.count = 8, .diameter = 0.012, .torque = 85.0, .circle = 0.06};
    const double ring = std::numbers::pi / 4 * 0.1 * 0.1;
    EXPECT_LT(zone_footprint(*clamped_zone(joint, kPlate, kPlate)).area, ring);
}

TEST(ClampedZone, ABlockOverABoreBearsOnItsCornersAlone) {
    const Joint joint;
    const SectionShape block = BlockShape{.x = 0.076, .y = 0.06};
    const SectionShape tube = TubeShape{.outer = 0.11, .inner = 0.07};
    // Rectangle less the circle of 70 mm cut off at |y| = 30 mm, by hand: 956 mm2.
    EXPECT_NEAR(joint_footprint(joint, tube, block).area, 956e-6, 5e-6);
}

TEST(ClampedZone, UnphysicalSizesAreRefused) {
    Joint joint;
    joint.dovetail = Dovetail{.length = 0, .width = 0.03, .flank = 1, .depth = 0.004};
    EXPECT_THROW(joint_footprint(joint, kPlate, kPlate), std::domain_error);
    joint.dovetail =
        Dovetail{.length = 0.06, .width = 0.03, .flank = 3, .depth = 0.004, .clamp = 1e3};
    EXPECT_THROW(clamped_zone(joint, kPlate, kPlate), std::domain_error);
    joint.dovetail.reset();
    joint.preload = -5;
    EXPECT_THROW(clamped_zone(joint, kPlate, kPlate), std::domain_error);
}

}  // namespace
}  // namespace standfast
