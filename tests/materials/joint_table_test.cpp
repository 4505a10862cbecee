#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <map>
#include <numbers>
#include <set>
#include <string>

#include "materials/lookup_key.hpp"
#include "materials/tables/load_catalogue.hpp"

namespace standfast {
namespace {

const Catalogue& catalogue() { return built_in_catalogue(); }

const JointKind& joint(const std::string& name, JointUse use) {
    const JointKind* const found = find_joint(catalogue(), name, use);
    EXPECT_NE(found, nullptr) << name;
    static const JointKind none;
    return found == nullptr ? none : *found;
}

struct Whole {
    double lateral = 0, tilting_about_length = 0;  // N/m, N m/rad
};

Whole on_footprint(const JointKind& kind, double length, double width) {
    return {kind.lateral * length * width, kind.vertical * length * std::pow(width, 3) / 12};
}

bool holds_by_jaws(const JointKind& kind) {
    return kind.name == "vice" || kind.name == "soft jaws" || kind.name == "toe clamps";
}

/// Jaws count by their two strips, here of 76 x 8 mm; the rest by a footprint of 76 x 60 mm.
double lateral_of(const JointKind& kind) {
    return kind.lateral * (holds_by_jaws(kind) ? 2 * 0.076 * 0.008 : 0.076 * 0.060);
}

// Common practice, no source: a bolted or vised workpiece joint gives 100 to 1000 N/um laterally.
TEST(JointTable, WorkholdingJointsAreAsSoftAsFixturesAre) {
    for (const char* name : {"bolted", "dovetail", "vice", "soft jaws", "toe clamps", "screws",
                             "chuck", "zero point", "collet"}) {
        const JointKind& kind = joint(name, JointUse::stack);
        EXPECT_GE(lateral_of(kind), 100e6) << name;
        EXPECT_LE(lateral_of(kind), 1000e6) << name;
    }
}

TEST(JointTable, BoltedPlateAndSmallDovetailHaveUsualMagnitudes) {
    // Solid models of a foot of 80 x 80 mm and of a dovetail of 60 x 32 mm, with the contact law
    // held at 2.5 MPa on poor faces below and carried on with its root above
    // (tests/fea/stack/solid_joints.hpp): per footprint 0.09 to 1.07, 0.23 to 2.6 N/um/mm2; the
    // dovetail from its flanks alone to its seat. A torque that nobody knows keeps to the low side.
    const Whole plate = on_footprint(joint("bolted", JointUse::stack), 0.08, 0.08);
    EXPECT_GE(plate.lateral, 0.09e12 * 0.0064);
    EXPECT_LE(plate.lateral, 0.34e12 * 0.0064);
    EXPECT_GE(plate.tilting_about_length, 1.1e6);
    EXPECT_LE(plate.tilting_about_length, 3.2e6);
    const Whole tail = on_footprint(joint("dovetail", JointUse::stack), 0.060, 0.032);
    EXPECT_GE(tail.lateral, 188e6);
    EXPECT_LE(tail.lateral, 1375e6);
    EXPECT_GE(tail.tilting_about_length, 0.072e6);
    EXPECT_LE(tail.tilting_about_length, 0.378e6);
}

// The contact law is the other way to these figures, and an upper bound: ground cast iron at
// 1 MPa has 1e12 N/m^3 normal, 3.9e11 tangential (Ito, Modular Design for Machine Tools, 2008,
// table 6-2, C = 0.6 and R = 0.8).
TEST(JointTable, NoFixtureJointIsStifferThanGroundCastIronInFullContact) {
    for (const JointKind& kind : catalogue().joints) {
        if (kind.scaling != JointScaling::per_area || holds_by_jaws(kind)) continue;
        EXPECT_LT(kind.vertical, 1.04e12) << kind.name;
        EXPECT_LT(kind.lateral, 3.91e11) << kind.name;
        EXPECT_GT(kind.vertical, kind.lateral) << kind.name;
    }
}

// Tangential over normal: 0.1 to 0.2 (Kono et al. 2012, abstract), about 0.38 in Ito's tables.
TEST(JointTable, ContactsSlideMoreEasilyThanTheyClose) {
    for (const JointKind& kind : catalogue().joints) {
        if (!(kind.contact_normal > 0)) continue;
        EXPECT_EQ(kind.use, JointUse::stack) << kind.name;
        EXPECT_GE(kind.contact_tangential, 0.1 * kind.contact_normal) << kind.name;
        EXPECT_LE(kind.contact_tangential, 0.45 * kind.contact_normal) << kind.name;
        EXPECT_GE(kind.unknown_spread, kind.spread) << kind.name;
        EXPECT_GT(kind.bearing, 0) << kind.name;
        EXPECT_LE(kind.bearing, 1) << kind.name;
    }
}

// Common practice, no source, a factor 2 either way.
TEST(JointTable, TapersLieInTheirUsualRanges) {
    for (const char* name : {"BT40", "CAT40", "SK40"}) {
        const JointKind& taper = joint(name, JointUse::taper);
        EXPECT_GE(taper.lateral, 150e6) << name;
        EXPECT_LE(taper.lateral, 500e6) << name;
        EXPECT_GE(taper.tilting, 0.5e6) << name;
        EXPECT_LE(taper.tilting, 3e6) << name;
    }
    EXPECT_GE(joint("HSK-A63", JointUse::taper).tilting, 1e6);
    EXPECT_LE(joint("HSK-A63", JointUse::taper).tilting, 5e6);
}

// Tsutsumi in Ito (2008), fig. 9-21, read off the axis (+-30 %): end stiffness of a steel bar of
// 45 x 160 mm on the taper, HSK-A63 15 to 35 N/um, No. 40 lower; a clamped bar has 30.4.
TEST(JointTable, ATestBarOnItsTaperBendsAsMeasured) {
    const double second_moment = std::numbers::pi / 64 * std::pow(0.045, 4);
    const double bar = std::pow(0.160, 3) / (3 * 206e9 * second_moment);  // m/N
    const auto end_stiffness = [&](const char* name) {
        const JointKind& taper = joint(name, JointUse::taper);
        return 1e-6 / (bar + 1 / taper.lateral + 0.160 * 0.160 / taper.tilting);
    };
    EXPECT_NEAR(1e-6 / bar, 30.4, 0.1);  // with 206 GPa
    EXPECT_GE(end_stiffness("HSK-A63"), 15);
    EXPECT_LE(end_stiffness("HSK-A63"), 30.4);
    EXPECT_GE(end_stiffness("BT40"), 10);
    EXPECT_LT(end_stiffness("BT40"), end_stiffness("HSK-A63"));
    EXPECT_LT(joint("HSK-A63", JointUse::taper).loss_factor,
              joint("BT40", JointUse::taper).loss_factor);
}

// Makers' figures: speed limits cite DIN 69893; flanges JIS B 6339 and ANSI B5.50 (CAT in inches).
TEST(JointTable, TaperDimensionsAreTheStandards) {
    const double rpm = 2 * std::numbers::pi / 60;
    EXPECT_NEAR(joint("HSK63A", JointUse::taper).speed_limit.value_or(0), 25000 * rpm, 1e-9);
    EXPECT_NEAR(joint("hsk-a100", JointUse::taper).speed_limit.value_or(0), 16000 * rpm, 1e-9);
    EXPECT_NEAR(joint("BT40", JointUse::taper).flange_diameter.value_or(0), 0.063, 1e-9);
    EXPECT_NEAR(joint("CAT40", JointUse::taper).flange_diameter.value_or(0), 2.5 * 0.0254, 1e-5);
    EXPECT_NEAR(joint("CAT 50", JointUse::taper).gauge_diameter.value_or(0), 2.75 * 0.0254, 1e-5);
    EXPECT_NEAR(joint("HSK-A63", JointUse::taper).draw_force.value_or(0), 18e3, 1e-6);
}

TEST(JointTable, EveryTaperOfTheTradeIsThere) {
    for (const char* name :
         {"BT30", "BT40", "BT50", "CAT30", "CAT40", "CAT50", "SK30", "SK40", "SK50", "ISO40",
          "HSK-A32", "HSK-A40", "HSK-A50", "HSK-A63", "HSK-A80", "HSK-A100", "HSK63A", "bt 40"}) {
        const JointKind& taper = joint(name, JointUse::taper);
        EXPECT_TRUE(taper.flange_diameter && taper.gauge_diameter && taper.draw_force &&
                    taper.speed_limit)
            << name;
        EXPECT_NE(find_spindle(catalogue(), name), nullptr) << name;
    }
}

// A grip is one of the springs behind a cutter, so stiffer than all of them together: 19.8 N/um
// sideways behind a 19.05 mm cutter (Budak and Altintas, Int. J. Mach. Tools Manuf. 35 (1995) 459,
// from memory); about 1e5 N m/rad in tilting behind a 12.75 mm one (computed from the tool point of
// Mann and others, J. Manuf. Sci. Eng. 127 (2005) 446, from memory), which a shrink grip has to
// pass.
TEST(JointTable, GripsAreStifferThanAllThatHoldsAMeasuredCutter) {
    int grips = 0;
    for (const JointKind& kind : catalogue().joints) {
        if (kind.use != JointUse::grip) continue;
        ++grips;
        EXPECT_EQ(kind.scaling, JointScaling::per_shank) << kind.name;
        EXPECT_GT(kind.lateral * 19.05 / 16, 19.8e6) << kind.name;
        EXPECT_GT(kind.vertical, kind.lateral) << kind.name;
        EXPECT_NE(find_holder(catalogue(), kind.name), nullptr) << kind.name;
    }
    EXPECT_GT(joint("shrink", JointUse::grip).tilting * std::pow(12.75 / 16, 3), 1e5);
    EXPECT_EQ(grips, 7);
}

// A chuck maker's manual that refers to VDI 3106: smooth jaws 0.07 to 0.15, serrated 0.20 to 0.45.
TEST(JointTable, FrictionIsNeverCountedAboveWhatJawsReach) {
    for (const JointKind& kind : catalogue().joints) {
        EXPECT_GE(kind.friction, 0) << kind.name;
        EXPECT_LE(kind.friction, 0.3) << kind.name;
    }
    EXPECT_DOUBLE_EQ(joint("vise", JointUse::stack).friction, 0.10);
}

TEST(JointTable, EveryRowIsPhysicalAndNamesItsSource) {
    for (const JointKind& kind : catalogue().joints) {
        EXPECT_GT(kind.lateral, 0) << kind.name;
        EXPECT_GT(kind.vertical, 0) << kind.name;
        EXPECT_GE(kind.loss_factor, 0.005) << kind.name;
        EXPECT_LE(kind.loss_factor, 0.1) << kind.name;
        EXPECT_GE(kind.spread, 1.5) << kind.name << ": nobody knows joints this well";
        EXPECT_GT(kind.upper_factor, kind.spread) << kind.name;
        EXPECT_GT(kind.source.text.size(), 20U) << kind.name;
        EXPECT_NE(kind.source.provenance, Provenance::user) << kind.name;
    }
}

// A shank bonded into a solid of revolution (nose to DIN 69882-8), computed with eight-node
// elements, gives this much more than a cantilever, m/N at 3, 4, 5, 6 diameters out: nothing that
// grips is stiffer. validation/measured/tool_points.json.
TEST(JointTable, NoGripIsStifferThanOneBondedIntoItsHolder) {
    struct Bonded {
        double shank;
        std::array<double, 4> give;
    };
    const Bonded rows[] = {{6e-3, {20.0e-9, 35.2e-9, 54.5e-9, 77.9e-9}},
                           {8e-3, {12.6e-9, 22.7e-9, 35.5e-9, 51.2e-9}},
                           {10e-3, {9.4e-9, 16.9e-9, 26.6e-9, 38.4e-9}},
                           {12e-3, {4.7e-9, 9.2e-9, 15.0e-9, 22.2e-9}},
                           {25e-3, {1.2e-9, 2.5e-9, 4.2e-9, 6.4e-9}}};
    for (const JointKind& kind : catalogue().joints) {
        if (kind.use != JointUse::grip) continue;
        for (const Bonded& row : rows) {
            const double size = row.shank / 16e-3;
            for (int diameters = 3; diameters <= 6; ++diameters) {
                const double lever = diameters * row.shank;
                const double give =
                    1 / (kind.lateral * size) + lever * lever / (kind.tilting * std::pow(size, 3));
                EXPECT_GT(give, row.give.at(static_cast<std::size_t>(diameters - 3)))
                    << kind.name << ", " << row.shank << " m, " << diameters << " diameters";
            }
        }
    }
}

TEST(JointTable, ShrinkIsTheStiffestGripAndEveryGripSaysWhatItHolds) {
    const JointKind& shrink = joint("shrink", JointUse::grip);
    for (const JointKind& kind : catalogue().joints) {
        if (kind.use != JointUse::grip) continue;
        EXPECT_LE(kind.tilting, shrink.tilting) << kind.name;
        EXPECT_LE(kind.lateral, shrink.lateral) << kind.name;
        ASSERT_TRUE(kind.holds) << kind.name;
        EXPECT_LT((*kind.holds)[0], (*kind.holds)[1]) << kind.name;
    }
    EXPECT_TRUE(joint("shell mill arbor", JointUse::grip).on_pilot);
}

TEST(JointTable, NoNameBelongsToTwoKindsOfOneUse) {
    for (const JointUse use : {JointUse::stack, JointUse::taper, JointUse::grip}) {
        std::set<std::string> seen;
        for (const std::string& name : joint_names(catalogue(), use)) {
            EXPECT_TRUE(seen.insert(lookup_key(name)).second) << name;
        }
    }
}

TEST(JointTable, AGripIsNotFoundAmongWorkholding) {
    EXPECT_EQ(find_joint(catalogue(), "shrink", JointUse::stack), nullptr);
    EXPECT_EQ(find_joint(catalogue(), "dovetail", JointUse::grip), nullptr);
    EXPECT_NE(find_joint(catalogue(), "collet", JointUse::grip),
              find_joint(catalogue(), "collet", JointUse::stack));
    EXPECT_EQ(joint("shrink fit", JointUse::grip).name, "shrink");
    EXPECT_EQ(joint("zero-point", JointUse::stack).name, "zero point");
}

}  // namespace
}  // namespace standfast
