#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <string>

#include "materials/tables/load_catalogue.hpp"

namespace standfast {
namespace {

const Catalogue& catalogue() { return built_in_catalogue(); }

struct Range {
    double low, high;
};

// Common practice, no source, a factor 2 either way.
TEST(MachineTable, TableSidesLieInTheirUsualRanges) {
    const auto check = [](const char* name, Range lateral) {
        const MachineKind* const kind = find_machine(catalogue(), name);
        ASSERT_NE(kind, nullptr) << name;
        EXPECT_GE(kind->lateral, lateral.low) << name;
        EXPECT_LE(kind->lateral, lateral.high) << name;
        EXPECT_GE(kind->spread, 2) << name;
    };
    check("3-axis", {50e6, 200e6});
    check("4-axis", {15e6, 80e6});
    check("5-axis, table tilts", {15e6, 80e6});
    check("5-axis, head tilts", {50e6, 200e6});
    check("horizontal", {50e6, 200e6});
    const MachineKind* const trunnion = find_machine(catalogue(), "trunnion");
    ASSERT_NE(trunnion, nullptr);
    EXPECT_GE(trunnion->tilting, 0.5e6);
    EXPECT_LE(trunnion->tilting, 5e6);
}

TEST(MachineTable, ATiltingTableReachesTheFifthSideOfATwentyDegreeFace) {
    const MachineKind* const kind = find_machine(catalogue(), "5-AXIS TABLE TILTS");
    ASSERT_NE(kind, nullptr);
    EXPECT_NEAR(kind->tilt_max.value_or(0), (90 + 20) * std::numbers::pi / 180, 1e-12);
}

TEST(MachineTable, TheTableTurnsOnlyWhereItCan) {
    const auto turns = [](const char* name) {
        return find_machine(catalogue(), name)->table_turns;
    };
    EXPECT_FALSE(turns("3-axis"));
    EXPECT_FALSE(turns("5-axis, head tilts"));
    EXPECT_TRUE(turns("5-axis, table tilts"));
    EXPECT_TRUE(turns("4-axis"));
    EXPECT_TRUE(turns("horizontal"));
    EXPECT_FALSE(find_machine(catalogue(), "3-axis")->tilt_max.has_value());
}

TEST(MachineTable, EveryRowIsPhysicalAndNamesItsSource) {
    EXPECT_EQ(catalogue().machines.size(), 5U);
    for (const MachineKind& kind : catalogue().machines) {
        EXPECT_GT(kind.vertical, kind.lateral) << kind.name;
        EXPECT_GT(kind.table_diameter, 0.1) << kind.name;
        // No evidence stands behind a usual one.
        EXPECT_EQ(kind.table_mass, 0) << kind.name;
        EXPECT_GT(kind.source.text.size(), 20U) << kind.name;
        EXPECT_NE(kind.source.provenance, Provenance::user) << kind.name;
    }
}

// Common practice, no source: radial stiffness at the spindle nose, taper included; the axial is
// 1 to 3 times as much.
TEST(SpindleTable, SpindleAndTaperInSeriesLieInTheNoseRange) {
    const auto check = [](const std::string& name, Range nose) {
        const SpindleKind* const spindle = find_spindle(catalogue(), name);
        const JointKind* const taper = find_joint(catalogue(), name, JointUse::taper);
        ASSERT_TRUE(spindle != nullptr && taper != nullptr) << name;
        const double lateral = 1 / (1 / spindle->lateral + 1 / taper->lateral);
        const double axial = 1 / (1 / spindle->axial + 1 / taper->vertical);
        EXPECT_GE(lateral, nose.low) << name;
        EXPECT_LE(lateral, nose.high) << name;
        EXPECT_GE(axial / lateral, 1) << name;
        EXPECT_LE(axial / lateral, 3) << name;
    };
    for (const std::string family : {"BT", "CAT", "SK"}) {
        check(family + "30", {10e6, 30e6});
        check(family + "40", {30e6, 80e6});
        check(family + "50", {80e6, 250e6});
    }
    check("HSK-A63", {50e6, 150e6});
}

TEST(SpindleTable, ABiggerSpindleIsStifferInEveryWay) {
    const char* const sizes[] = {"HSK-A32", "HSK-A40", "HSK-A50", "HSK-A63", "HSK-A80", "HSK-A100"};
    for (int i = 0; i + 1 < 6; ++i) {
        const SpindleKind* const small = find_spindle(catalogue(), sizes[i]);
        const SpindleKind* const big = find_spindle(catalogue(), sizes[i + 1]);
        ASSERT_TRUE(small != nullptr && big != nullptr);
        EXPECT_LT(small->lateral, big->lateral) << sizes[i];
        EXPECT_LT(small->axial, big->axial) << sizes[i];
        EXPECT_LT(small->tilting, big->tilting) << sizes[i];
        EXPECT_LT(small->twisting, big->twisting) << sizes[i];
        EXPECT_LE(small->nose_diameter, big->nose_diameter) << sizes[i];
    }
}

// 2.5 kg and 0.006 kg m2 at 40 size, fitted to the first modes of measured tools
// (validation/measured); other sizes by geometry.
TEST(SpindleTable, NosesWeighAsTheirSizeSays) {
    const SpindleKind* const forty = find_spindle(catalogue(), "CAT40");
    ASSERT_NE(forty, nullptr);
    EXPECT_DOUBLE_EQ(forty->mass, 2.5);
    EXPECT_DOUBLE_EQ(forty->inertia, 0.006);
    for (const SpindleKind& kind : catalogue().spindles) {
        const double larger = kind.nose_diameter / forty->nose_diameter;
        EXPECT_NEAR(kind.mass, 2.5 * std::pow(larger, 3), 0.05 * kind.mass) << kind.taper;
        EXPECT_NEAR(kind.inertia, 0.006 * std::pow(larger, 5), 0.05 * kind.inertia) << kind.taper;
        EXPECT_GT(kind.mass_spread, 1.3) << kind.taper;
        EXPECT_GT(kind.power, 3e3) << kind.taper;
        // What it makes its power at lies within what such spindles turn.
        const double corner = kind.power / kind.torque * 60 / (2 * std::numbers::pi);
        EXPECT_GT(corner, 400) << kind.taper;
        EXPECT_LT(corner, 10000) << kind.taper;
    }
}

TEST(SpindleTable, EveryRowNamesATaperAndItsSource) {
    for (const SpindleKind& kind : catalogue().spindles) {
        EXPECT_NE(find_joint(catalogue(), kind.taper, JointUse::taper), nullptr) << kind.taper;
        EXPECT_GT(kind.source.text.size(), 20U) << kind.taper;
        EXPECT_NE(kind.source.provenance, Provenance::user) << kind.taper;
    }
}

TEST(HolderTable, TypicalHoldersAreSlenderEnoughToBeHolders) {
    for (const HolderKind& kind : catalogue().holders) {
        ASSERT_FALSE(kind.steps.empty()) << kind.grip;
        double length = 0, narrowest = 1;
        for (const HolderKind::Step& step : kind.steps) {
            length += step.length;
            narrowest = std::min(narrowest, step.diameter_to);
        }
        EXPECT_GT(narrowest, 0.012) << kind.grip << ": narrower than the shank it grips";
        EXPECT_GE(length, 0.050) << kind.grip;
        EXPECT_LE(length, 0.120) << kind.grip;
        EXPECT_NE(find_joint(catalogue(), kind.grip, JointUse::grip), nullptr) << kind.grip;
        EXPECT_NE(kind.source.provenance, Provenance::user) << kind.grip;
    }
}

}  // namespace
}  // namespace standfast
