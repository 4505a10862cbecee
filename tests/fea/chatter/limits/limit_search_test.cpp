#include "fea/chatter/limits/limit_search.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <stdexcept>
#include <string>

#include "fea/chatter/map/floquet.hpp"
#include "fea/chatter/map/krylov.hpp"
#include "fea/chatter/map/period_map.hpp"
#include "tests/fea/chatter/stability_cases.hpp"

namespace standfast {
namespace {

using reference::Table;

const std::string kTables = std::string(STANDFAST_SOURCE_DIR) + "/validation/cases/stability/";

constexpr double kSearched = 0.040;  // m, as the tables were

// Tables print a limit to 0.2 %, a frequency to 1 Hz; what is reached is checked more tightly.
void expect_row(const Table& table, std::size_t row, const DelaySystem& system,
                double tolerance = 3e-5) {
    const SpeedLimit got =
        periodic_limit(system, SpindleSpeed::from_rpm(table.number(row, "rpm")), kSearched, 1.0);
    const std::string where = "row " + std::to_string(row) + ", " + table.word(row, "rpm") + " rpm";
    if (table.word(row, "limit_mm") == "none") {
        EXPECT_FALSE(got.limit.has_value()) << where;
        return;
    }
    ASSERT_TRUE(got.limit && got.kind && got.chatter_hertz) << where;
    const double expected = table.number(row, "limit_mm") * 1e-3;
    EXPECT_NEAR(*got.limit, expected, tolerance * expected) << where;
    EXPECT_EQ(*got.kind == ChatterKind::period_doubling,
              table.word(row, "kind") == "period doubling")
        << where;
    EXPECT_NEAR(*got.chatter_hertz, table.number(row, "chatter_hz"), tolerance < 1e-3 ? 0.05 : 10)
        << where;
}

TEST(PeriodicLimits, EveryNinthRowOfTheBenchmarkTables) {
    const Table table = reference::read_table(kTables + "benchmark_limits.csv");
    for (std::size_t row = 0; row < table.rows.size(); row += 9) {
        expect_row(table, row,
                   reference::benchmark_system(static_cast<int>(table.number(row, "directions")),
                                               table.number(row, "immersion"),
                                               reference::milling_of(table.word(row, "milling"))));
    }
}

TEST(PeriodicLimits, NarrowBandsOfPeriodDoublingAreNotSteppedOver) {
    // Rows whose band of instability is a few percent of the depth wide.
    const Table table = reference::read_table(kTables + "benchmark_limits.csv");
    for (std::size_t row = 0; row < table.rows.size(); ++row) {
        const bool narrow = table.word(row, "rpm") == "5400" &&
                            table.word(row, "immersion") == "0.05" &&
                            table.word(row, "directions") == "2";
        if (narrow) {
            expect_row(table, row,
                       reference::benchmark_system(
                           2, 0.05, reference::milling_of(table.word(row, "milling"))));
        }
    }
}

TEST(PeriodicLimits, ToolAndPartTogetherWithAndWithoutHelix) {
    const Table table = reference::read_table(kTables + "case_m1_limits.csv");
    for (std::size_t row = 0; row < table.rows.size(); row += 5) {
        expect_row(
            table, row,
            reference::m1_system(table.number(row, "helix_deg"), table.number(row, "immersion")));
    }
}

TEST(PeriodicLimits, ExampleAWithThreeAndFourTeeth) {
    const Table table = reference::read_table(kTables + "example_a_limits.csv");
    for (std::size_t row = 0; row < table.rows.size(); row += 4) {
        expect_row(table, row,
                   reference::example_a_system(static_cast<int>(table.number(row, "teeth")),
                                               reference::milling_of(table.word(row, "milling"))));
    }
}

TEST(PeriodicLimits, ExampleBWithItsComplexResidues) {
    // Real modes that stand for them miss the limits by up to 14 %.
    const Table table = reference::read_table(kTables + "example_b_limits.csv");
    for (std::size_t row = 0; row < table.rows.size(); row += 3)
        expect_row(table, row, reference::example_b_system(), 5e-4);
}

TEST(PeriodicLimits, TheMultiplierCrossesTheUnitCircleAtTheLimit) {
    const DelaySystem system = reference::m1_system(38, 0.06);
    for (const double rpm : {3100.0, 5200.0, 8700.0}) {
        const SpindleSpeed speed = SpindleSpeed::from_rpm(rpm);
        const SpeedLimit limit = periodic_limit(system, speed, 0.06);
        ASSERT_TRUE(limit.limit);
        EXPECT_NEAR(largest_multiplier(system, speed, *limit.limit).radius(), 1, 1e-5);
        EXPECT_LT(largest_multiplier(system, speed, 0.97 * *limit.limit).radius(), 1);
        EXPECT_GT(largest_multiplier(system, speed, 1.01 * *limit.limit).radius(), 1);
    }
}

TEST(PeriodicLimits, IslandsAreStableAndLieAboveTheLimit) {
    // The band of period doubling closes again, 7 % of the depth before the next pair leaves.
    const DelaySystem system = reference::benchmark_system(1, 0.05, Milling::up);
    const SpindleSpeed speed = SpindleSpeed::from_rpm(4627.744);
    const SpeedLimit limit = periodic_limit(system, speed, kSearched, 1.5);
    ASSERT_TRUE(limit.limit);
    ASSERT_EQ(limit.islands.size(), 1U);
    const auto [from, to] = limit.islands[0];
    EXPECT_GT(from, *limit.limit);
    EXPECT_GT(to, from);
    EXPECT_LT(largest_multiplier(system, speed, 0.5 * (from + to)).radius(), 1);
    EXPECT_GT(largest_multiplier(system, speed, 0.5 * (*limit.limit + from)).radius(), 1);
}

TEST(PeriodicLimits, AreTheSameOneByOneAndTogether) {
    const DelaySystem system = reference::m1_system(38, 0.06);
    const std::vector<SpindleSpeed> speeds{
        SpindleSpeed::from_rpm(9000), SpindleSpeed::from_rpm(4000), SpindleSpeed::from_rpm(5500)};
    const StabilityLimits together = periodic_limits(system, speeds, 0.06);
    EXPECT_EQ(together.method, StabilityMethod::periodic);
    EXPECT_EQ(together.searched_to, 0.06);
    ASSERT_EQ(together.speeds.size(), 3U);
    for (std::size_t k = 0; k < speeds.size(); ++k) {
        EXPECT_EQ(together.speeds[k].speed, speeds[k]);
        EXPECT_EQ(together.speeds[k].limit, periodic_limit(system, speeds[k], 0.06).limit);
    }
}

TEST(PeriodicLimits, ACutThatNothingYieldsToIsStableToTheSearchedDepth) {
    DelaySystem rigid = reference::m1_system(38, 0.06);
    rigid.receptance.terms.clear();
    EXPECT_FALSE(periodic_limit(rigid, SpindleSpeed::from_rpm(6000), 0.06).limit);
    EXPECT_THROW(periodic_limit(rigid, SpindleSpeed::from_rpm(6000), 0), std::domain_error);
}

TEST(PeriodicLimits, MotionThatGrowsSlowlyWithDepthIsNeutralAtItsLimitToo) {
    // A heavy stand that sways at 140 Hz: its multiplier changes so little with the depth that the
    // residual of the multipliers shows beside it.
    constexpr double kTurn = 6.283185307179586;
    DelaySystem system;
    const auto add = [&](double hertz, double ratio, double compliance, double angle) {
        const double w = kTurn * hertz, u = w * std::sqrt(compliance);
        system.receptance.terms.push_back(
            {{w}, ratio, Eigen::Vector3d{u * std::cos(angle), u * std::sin(angle), 0}});
    };
    add(139, 0.03, 6e-8, 0.3);
    add(139.5, 0.03, 5e-8, 1.9);
    add(817, 0.03, 5e-9, 0.4);
    add(819, 0.03, 5e-9, 2.0);
    add(2133, 0.02, 6e-9, 0.1);
    add(2140, 0.02, 6e-9, 1.7);
    system.cutter = {
        .diameter = 0.020, .helix = 0.61, .tooth_angle = {0, kTurn / 4, kTurn / 2, 3 * kTurn / 4}};
    system.engagement = engagement(Milling::down, 0.0004, 0.020);
    system.law = {.tangential = 1.9e9, .radial = 9e8, .axial = 4e8};
    for (int i = 0; i < 60; ++i) {
        const SpindleSpeed speed = SpindleSpeed::from_rpm(2150 + 0.05 * i);
        const SpeedLimit limit = periodic_limit(system, speed, 0.1, 1);
        ASSERT_TRUE(limit.limit) << speed.rpm();
        const PeriodMap map(system, speed, *limit.limit, 9);
        EXPECT_NEAR(std::log(std::abs(dominant_eigenpair(map, 1e-9).value)), 0, 1e-4)
            << speed.rpm();
    }
}

}  // namespace
}  // namespace standfast
