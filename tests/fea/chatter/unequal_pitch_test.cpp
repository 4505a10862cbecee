// Cutters of unequal pitch: teeth that take turns, and teeth that cut together with a delay each.
#include <gtest/gtest.h>

#include <cmath>
#include <fstream>
#include <numbers>
#include <sstream>
#include <string>

#include "fea/chatter/limits/limit_search.hpp"
#include "fea/chatter/map/floquet.hpp"
#include "fea/chatter/map/period_map.hpp"
#include "fea/chatter/motion/time_march.hpp"
#include "tests/fea/chatter/stability_cases.hpp"

namespace standfast {
namespace {

using reference::benchmark_system;
using reference::m1_system;

constexpr double kDegree = std::numbers::pi / 180;

RigidCut cut_of(const DelaySystem& system, double depth, double feed = 1e-4) {
    return {system.cutter, system.engagement, system.law, feed, depth};
}

TEST(UnequalPitch, EqualPitchCountedByRevolutionsGivesTheToothPeriodsMultiplier) {
    const DelaySystem even = m1_system(38, 0.06);
    DelaySystem hardly = even;
    hardly.cutter.tooth_angle[1] += 1e-7;
    for (const double rpm : {4400.0, 9000.0}) {
        const SpindleSpeed speed = SpindleSpeed::from_rpm(rpm);
        const double tooth = largest_multiplier(even, speed, 1.2e-3).radius();
        EXPECT_NEAR(largest_multiplier(hardly, speed, 1.2e-3).radius(), std::pow(tooth, 4), 2e-5);
        const SpeedLimit a = periodic_limit(even, speed, 0.05, 1.0);
        const SpeedLimit b = periodic_limit(hardly, speed, 0.05, 1.0);
        EXPECT_NEAR(*b.limit, *a.limit, 1e-4 * *a.limit);
        EXPECT_NEAR(*b.chatter_hertz, *a.chatter_hertz, 0.1);
    }
}

TEST(UnequalPitch, GrowsAsTheTimeMarchSays) {
    DelaySystem system = benchmark_system(1, 0.1, Milling::down);
    system.cutter.tooth_angle[1] = 170 * std::numbers::pi / 180;
    const SpindleSpeed speed = SpindleSpeed::from_rpm(6200);
    const double limit = *periodic_limit(system, speed, 0.04, 1.0).limit;
    for (const double share : {0.97, 1.03}) {
        const double per_revolution = largest_multiplier(system, speed, share * limit).radius();
        // 170 of 360 degrees are a whole number of steps.
        const MarchSetting linear{
            .revolutions = 80, .steps_per_revolution = 1800, .leaves_cut = false};
        const double marched = growth_per_tooth(
            time_march(system.receptance, cut_of(system, share * limit), speed, linear));
        EXPECT_NEAR(marched, std::sqrt(per_revolution), 3e-3);
    }
}

/// The case of validation/peers/unequal_pitch.py.
DelaySystem four_unequal_teeth(double immersion, double process_damping) {
    DelaySystem system = benchmark_system(2, immersion, Milling::down);
    system.cutter = reference::even_cutter(4, 0.010);
    system.cutter.tooth_angle = {0, 100 * kDegree, 185 * kDegree, 280 * kDegree};
    system.law.process_damping = process_damping;
    return system;
}

TEST(UnequalPitch, OfTeethThatCutTogetherMatchesSemiDiscretization) {
    // The peer is extrapolated from 720 and 1440 steps a revolution.
    std::ifstream file(STANDFAST_SOURCE_DIR "/validation/cases/stability/unequal_pitch.csv");
    std::string line;
    int rows = 0;
    while (std::getline(file, line)) {
        if (line.empty() || line[0] == '#' || line[0] == 'r') continue;
        std::istringstream fields(line);
        std::vector<double> value;
        for (std::string field; std::getline(fields, field, ',');)
            value.push_back(std::stod(field));
        ASSERT_EQ(value.size(), 4U) << line;
        const DelaySystem system = four_unequal_teeth(value[1], value[2]);
        const SpeedLimit limit =
            periodic_limit(system, SpindleSpeed::from_rpm(value[0]), 0.02, 1.0);
        ASSERT_TRUE(limit.limit) << line;
        EXPECT_NEAR(*limit.limit / value[3], 1, 1e-3) << line;
        ++rows;
    }
    EXPECT_GE(rows, 8);
}

TEST(UnequalPitch, TeethThatCutTogetherAndHardlyDifferAreEqualTeeth) {
    struct Row {
        DelaySystem system;
        double rpm, depth;
    };
    DelaySystem helical = m1_system(38, 0.5);
    for (const Row& row : {Row{benchmark_system(2, 1.0, Milling::down), 6200, 0.3e-3},
                           Row{helical, 5200, 0.8e-3}, Row{m1_system(0, 1.0), 5200, 0.4e-3}}) {
        DelaySystem hardly = row.system;
        hardly.cutter.tooth_angle[1] += 1e-7;
        ASSERT_FALSE(prepare_cut(hardly, row.depth).parts.empty());
        const SpindleSpeed speed = SpindleSpeed::from_rpm(row.rpm);
        const double tooth = largest_multiplier(row.system, speed, row.depth).radius();
        EXPECT_NEAR(largest_multiplier(hardly, speed, row.depth).radius(),
                    std::pow(tooth, row.system.cutter.teeth()), 3e-5)
            << row.rpm;
        const SpeedLimit a = periodic_limit(row.system, speed, 0.05, 1.0);
        const SpeedLimit b = periodic_limit(hardly, speed, 0.05, 1.0);
        EXPECT_NEAR(*b.limit, *a.limit, 2e-4 * *a.limit) << row.rpm;
        EXPECT_NEAR(*b.chatter_hertz, *a.chatter_hertz, 0.2) << row.rpm;
    }
}

TEST(UnequalPitch, OfHelicalTeethThatOverlapGrowsAsTheTimeMarchSays) {
    DelaySystem system = m1_system(38, 0.06);
    system.cutter.tooth_angle = {0, 84 * kDegree, 180 * kDegree, 264 * kDegree};
    const SpindleSpeed speed = SpindleSpeed::from_rpm(5700);
    const double limit = *periodic_limit(system, speed, 0.06, 1.0).limit;
    // Deep enough for a tooth to enter before the one before it has left.
    for (const double depth : {0.97 * limit, 1.03 * limit, 14e-3}) {
        if (depth == 14e-3) {
            ASSERT_FALSE(prepare_cut(system, depth).parts.empty());
        }
        const MarchSetting linear{
            .revolutions = 24, .steps_per_revolution = 3600, .slices = 60, .leaves_cut = false};
        const double marched =
            growth_per_tooth(time_march(system.receptance, cut_of(system, depth), speed, linear));
        const double multiplier = largest_multiplier(system, speed, depth).radius();
        EXPECT_NEAR(marched, std::pow(multiplier, 0.25), 6e-3) << depth;
    }
}

}  // namespace
}  // namespace standfast
