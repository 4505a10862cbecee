#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <set>
#include <string>

#include "materials/lookup_key.hpp"
#include "materials/tables/load_catalogue.hpp"

namespace standfast {
namespace {

const Catalogue& catalogue() { return built_in_catalogue(); }

const CuttingData& cutting(const char* name) {
    const CuttingData* const found = find_cutting(catalogue(), name);
    EXPECT_NE(found, nullptr) << name;
    static const CuttingData none;
    return found == nullptr ? none : *found;
}

// kc in N/mm2 at a chip of h mm; values computed by hand from the published pairs.
TEST(CuttingTable, KienzleForceAtAThinChip) {
    const auto specific_force = [](const char* name, double h) {
        const KienzleForces law = cutting(name).kienzle.value_or(KienzleForces{});
        return law.kc11 / 1e6 * std::pow(h, -law.exponent);
    };
    EXPECT_NEAR(specific_force("42CrMo4", 0.05), 5448, 1);   // Koenig and Klocke, from memory
    EXPECT_NEAR(specific_force("group 8", 0.05), 3540, 1);   // tool maker's catalogue, 2017
    EXPECT_NEAR(specific_force("group 22", 0.05), 1692, 1);  // same
    EXPECT_NEAR(specific_force("group 37", 0.05), 4079, 1);  // same
    EXPECT_NEAR(specific_force("VDI 3323 group 14", 1), 2150, 1e-6);
}

TEST(CuttingTable, MechanisticSetsArePublishedOnes) {
    // Review in Chin. J. Mech. Eng. 2021, table 5, row of reference 190: N/mm2 and N/mm.
    const MechanisticForces set = cutting("7075").mechanistic.value_or(MechanisticForces{});
    EXPECT_DOUBLE_EQ(set.tangential, 767.01e6);
    EXPECT_DOUBLE_EQ(set.radial, 168.8e6);
    EXPECT_DOUBLE_EQ(set.axial, 222e6);
    EXPECT_DOUBLE_EQ(set.tangential_edge, 27.7e3);
    EXPECT_DOUBLE_EQ(set.radial_edge, 26.6e3);
    EXPECT_DOUBLE_EQ(set.axial_edge, 0.7e3);
}

TEST(CuttingTable, Default6061IsASpecificForceOf750At68Degrees) {
    // Schmitz and Smith, from memory.
    const MechanisticForces set =
        cutting("aluminium 6061-T6").mechanistic.value_or(MechanisticForces{});
    const double degree = std::acos(-1.0) / 180;
    EXPECT_NEAR(std::hypot(set.tangential, set.radial), 750e6, 0.01 * 750e6);
    EXPECT_NEAR(std::atan2(set.tangential, set.radial), 68 * degree, 1 * degree);
}

// A set without edge forces has the medians of the table's other aluminium sets, and says so.
TEST(CuttingTable, EdgeForcesThatASetLacksAreThoseOfItsNeighbours) {
    std::vector<double> tangential, radial, axial;
    for (const CuttingData& row : catalogue().cutting) {
        if (!row.name.starts_with("aluminium") || !row.mechanistic) continue;
        const MechanisticForces& set = *row.mechanistic;
        if (set.edge_from_neighbours || !(set.tangential_edge > 0)) continue;
        tangential.push_back(set.tangential_edge);
        radial.push_back(set.radial_edge);
        if (set.axial_edge > 0) axial.push_back(set.axial_edge);
    }
    const auto median = [](std::vector<double> values) {
        std::sort(values.begin(), values.end());
        return values[values.size() / 2];
    };
    ASSERT_EQ(tangential.size(), 7U);
    const MechanisticForces set = cutting("6061").mechanistic.value_or(MechanisticForces{});
    EXPECT_TRUE(set.edge_from_neighbours);
    EXPECT_NEAR(set.tangential_edge, median(tangential), 0.05e3);
    EXPECT_NEAR(set.radial_edge, median(radial), 0.05e3);
    EXPECT_NEAR(set.axial_edge, median(axial), 0.05e3);
}

// Milling sets of carbon and low-alloy steels: 1800 to 2500 N/mm2 per chip area, from memory. At
// thick chips they come back to the turning catalogue's law, whose chips they are.
TEST(CuttingTable, SteelTakesMillingForcesAtThinChipsAndMeetsTheTurningLawAtThickOnes) {
    for (const char* name : {"1018", "1045", "4140", "4340"}) {
        const CuttingData& row = cutting(name);
        ASSERT_TRUE(row.mechanistic && row.kienzle) << name;
        EXPECT_GE(row.mechanistic->tangential, 1800e6) << name;
        EXPECT_LE(row.mechanistic->tangential, 2500e6) << name;
        const auto turned = [&](double h) {  // N/m
            return row.kienzle->kc11 * std::pow(h * 1e3, -row.kienzle->exponent) * h;
        };
        const auto milled = [&](double h) {
            return row.mechanistic->tangential * h + row.mechanistic->tangential_edge;
        };
        EXPECT_LT(milled(0.03e-3), turned(0.03e-3)) << name;
        EXPECT_NEAR(milled(0.3e-3), turned(0.3e-3), 0.2 * turned(0.3e-3)) << name;
    }
}

TEST(CuttingTable, TheDoubtfulLowSetIsListedButNobodysDefault) {
    const CuttingData& doubtful = cutting("aluminium 6061-T6, doubtful low set");
    ASSERT_TRUE(doubtful.mechanistic.has_value());
    EXPECT_DOUBLE_EQ(doubtful.mechanistic->tangential, 243.77e6);
    for (const Material& material : catalogue().materials) {
        EXPECT_NE(find_cutting(catalogue(), material.name), &doubtful) << material.name;
    }
}

// Budak, Altintas and Armarego 1996, orthogonal data from memory: shear stress 613 MPa, friction
// angle 19.1 deg, chip ratio 1.755 h^0.331, rake 0; thin-shear-zone formulas worked out here.
TEST(CuttingTable, TitaniumFollowsFromOrthogonalCutting) {
    const double degree = std::acos(-1.0) / 180;
    const double ratio = 1.755 * std::pow(0.05, 0.331);
    const double shear_angle = std::atan(ratio);
    const double friction = 19.1 * degree;
    const double along = 613e6 / (std::sin(shear_angle) * std::cos(shear_angle + friction));
    const MechanisticForces set = cutting("Ti64").mechanistic.value_or(MechanisticForces{});
    EXPECT_NEAR(set.tangential, along * std::cos(friction), 0.002 * set.tangential);
    EXPECT_NEAR(set.radial, along * std::sin(friction), 0.003 * set.radial);
}

TEST(CuttingTable, EveryRowIsPhysicalAndNamesItsSource) {
    for (const CuttingData& row : catalogue().cutting) {
        EXPECT_TRUE(row.mechanistic || row.kienzle) << row.name;
        if (row.mechanistic) {
            EXPECT_GT(row.mechanistic->tangential, 100e6) << row.name;
            EXPECT_LT(row.mechanistic->tangential, 5000e6) << row.name;
            EXPECT_LT(row.mechanistic->radial, row.mechanistic->tangential) << row.name;
            EXPECT_LT(row.mechanistic->axial, row.mechanistic->tangential) << row.name;
            EXPECT_LT(row.mechanistic->tangential_edge, 100e3) << row.name;
        }
        if (row.kienzle) {
            EXPECT_GE(row.kienzle->kc11, 100e6) << row.name;
            EXPECT_LT(row.kienzle->kc11, 5000e6) << row.name;
            EXPECT_GE(row.kienzle->exponent, 0.1) << row.name;
            EXPECT_LE(row.kienzle->exponent, 0.35) << row.name;
            EXPECT_LE(row.kienzle->radial_ratio, 0.6) << row.name;
            EXPECT_LE(row.kienzle->axial_ratio, 0.4) << row.name;
        }
        ASSERT_TRUE(row.cutting_speed.has_value()) << row.name;
        EXPECT_LT(2 * row.cutting_speed->at(0), row.cutting_speed->at(1) + 1e-9) << row.name;
        EXPECT_LT(row.cutting_speed->at(1), 20) << row.name;  // m/s
        EXPECT_GE(row.spread, 1.15) << row.name << ": nobody knows forces this well";
        EXPECT_GT(row.source.text.size(), 20U) << row.name;
        EXPECT_NE(row.source.provenance, Provenance::user) << row.name;
    }
}

TEST(CuttingTable, EveryMaterialThatIsMilledHasForces) {
    const std::set<std::string> ground{"cemented carbide", "polymer concrete"};
    for (const Material& material : catalogue().materials) {
        const CuttingData* const data = find_cutting(catalogue(), material.name);
        EXPECT_EQ(data == nullptr, ground.contains(material.name)) << material.name;
        if (data == nullptr) continue;
        for (const std::string& alias : material.aliases) {
            EXPECT_NE(find_cutting(catalogue(), alias), nullptr) << alias;
        }
    }
    EXPECT_EQ(cutting("304").name, cutting("316").name);
    EXPECT_EQ(cutting("steel").name, "steel, low alloy, 300 HB");
}

// Harder to cut: more force per chip area, slower window. Common practice, no source.
TEST(CuttingTable, MaterialsRankAsEveryShopKnows) {
    const auto force = [](const char* name) {
        const CuttingData& data = cutting(name);
        return data.mechanistic
                   ? data.mechanistic->tangential + data.mechanistic->tangential_edge / 0.05e-3
                   : data.kienzle->kc11 * std::pow(0.05, -data.kienzle->exponent);
    };
    const char* softest_first[] = {"acetal", "6061", "1018", "304", "718"};
    for (int i = 0; i + 1 < 5; ++i) {
        EXPECT_LT(force(softest_first[i]), force(softest_first[i + 1])) << softest_first[i];
    }
    EXPECT_GT(cutting("6061").cutting_speed->at(1), 3 * cutting("4140").cutting_speed->at(1));
    EXPECT_GT(cutting("4140").cutting_speed->at(1), 2 * cutting("718").cutting_speed->at(1));
}

TEST(CuttingTable, NoNameBelongsToTwoRows) {
    std::set<std::string> seen;
    for (const CuttingData& row : catalogue().cutting) {
        EXPECT_TRUE(seen.insert(lookup_key(row.name)).second) << row.name;
        for (const std::string& alias : row.aliases) {
            EXPECT_TRUE(seen.insert(lookup_key(alias)).second) << alias;
        }
    }
}

}  // namespace
}  // namespace standfast
