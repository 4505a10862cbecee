#include "fea/chatter/motion/time_march.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <string>

#include "fea/chatter/limits/limit_search.hpp"
#include "fea/chatter/map/floquet.hpp"
#include "fea/chatter/motion/surface_error.hpp"
#include "tests/fea/chatter/stability_cases.hpp"

namespace standfast {
namespace {

using reference::benchmark_system;
using reference::m1_system;

RigidCut cut_of(const DelaySystem& system, double depth, double feed = 1e-4) {
    return {system.cutter, system.engagement, system.law, feed, depth};
}

double marched_growth(const DelaySystem& system, SpindleSpeed speed, double depth,
                      int revolutions) {
    const MarchSetting linear{.revolutions = revolutions, .leaves_cut = false};
    return growth_per_tooth(time_march(system.receptance, cut_of(system, depth), speed, linear));
}

TEST(TimeMarch, GrowsAsTheFloquetMultiplierSays) {
    // The independent witness: nothing of the map is used. 3 % below the limit it decays, above
    // it grows, at the rate of the multiplier.
    struct Row {
        DelaySystem system;
        double rpm;
    };
    for (const Row& row : {Row{benchmark_system(1, 0.05, Milling::down), 5600},
                           Row{benchmark_system(1, 0.5, Milling::down), 8000},
                           Row{benchmark_system(2, 1.0, Milling::down), 9200},
                           Row{m1_system(0, 0.2), 5700}, Row{m1_system(38, 0.06), 5700}}) {
        const SpindleSpeed speed = SpindleSpeed::from_rpm(row.rpm);
        const SpeedLimit limit = periodic_limit(row.system, speed, 0.06, 1.0);
        ASSERT_TRUE(limit.limit);
        for (const double share : {0.97, 1.03}) {
            const double depth = share * *limit.limit;
            const double marched = marched_growth(row.system, speed, depth, 80);
            EXPECT_EQ(marched < 1, share < 1) << row.rpm << " rpm, " << share;
            EXPECT_NEAR(marched, largest_multiplier(row.system, speed, depth).radius(), 3e-3)
                << row.rpm << " rpm, " << share;
        }
    }
}

TEST(TimeMarch, LeavesTheWallThatTheStableMotionLeaves) {
    DelaySystem system = benchmark_system(1, 0.05, Milling::down);
    system.receptance = reference::receptance_of({{900, 0.02, 5e6, 0, 1}});
    system.cutter = reference::even_cutter(2, 0.012, 30);
    system.engagement = engagement(Milling::down, 0.3e-3, 0.012);
    system.law.tangential = 800e6;
    system.law.radial = 240e6;
    system.law.tangential_edge = 12e3;
    system.law.radial_edge = 10e3;
    const RigidCut cut = cut_of(system, 6e-3, 0.08e-3);
    for (const double rpm : {8000.0, 20000.0}) {
        const SpindleSpeed speed = SpindleSpeed::from_rpm(rpm);
        const March march = time_march(system.receptance, cut, speed, {.revolutions = 60});
        const StableMotion motion = stable_motion(system.receptance, cut, speed, march.height);
        for (std::size_t k = 0; k < march.height.size(); ++k) {
            EXPECT_NEAR(march.wall_error[k], motion.error[k], 0.01 * std::abs(motion.largest_error))
                << rpm << " rpm at " << march.height[k];
        }
    }
}

TEST(TimeMarch, AboveAFlipLimitEverySecondToothRepeats) {
    const DelaySystem system = benchmark_system(1, 0.05, Milling::down);
    const SpindleSpeed speed = SpindleSpeed::from_rpm(7400);
    const double limit = *periodic_limit(system, speed, 0.04, 1.0).limit;
    const March march =
        time_march(system.receptance, cut_of(system, 1.15 * limit), speed, {.revolutions = 150});
    const auto period = static_cast<std::size_t>(march.steps_per_revolution / march.teeth);
    double by_one = 0, by_two = 0, largest = 0;
    for (std::size_t k = march.displacement.size() - 4 * period; k < march.displacement.size();
         ++k) {
        const Eigen::Vector3d& now = march.displacement[k];
        by_one = std::max(by_one, (now - march.displacement[k - period]).norm());
        by_two = std::max(by_two, (now - march.displacement[k - 2 * period]).norm());
        largest = std::max(largest, now.norm());
    }
    EXPECT_GT(by_one, 0.1 * largest);
    EXPECT_LT(by_two, 0.02 * by_one);
    EXPECT_LT(largest, 1e-3) << "loss of contact keeps the motion bounded";
}

TEST(TimeMarch, AToothThatRunsOutFarInwardLeavesItsChipToTheNext) {
    DelaySystem stiff = benchmark_system(1, 0.5, Milling::down);
    for (ModalTerm& term : stiff.receptance.terms) term.shape *= 1e-4;
    stiff.cutter.runout = {0.0, -0.2e-3};  // twice the feed per tooth
    const March march = time_march(stiff.receptance, cut_of(stiff, 1e-3),
                                   SpindleSpeed::from_rpm(6000), {.revolutions = 4});
    const auto half = static_cast<std::size_t>(march.steps_per_revolution / 2);
    const auto end = march.force.size();
    double outer = 0, inner = 0;
    for (std::size_t k = end - 2 * half; k < end; ++k) {
        double& of = k < end - half ? outer : inner;
        of = std::max(of, march.force[k].norm());
    }
    const double chip = 2e-4;  // of two teeth
    const double peak = chip * 1e-3 * std::hypot(6e8, 2e8);
    EXPECT_NEAR(std::max(outer, inner), peak, 0.01 * peak);
    EXPECT_LT(std::min(outer, inner), 0.01 * peak);
}

TEST(TimeMarch, FlankContactDampsTheMoreTheSlowerTheCut) {
    DelaySystem system = benchmark_system(1, 0.5, Milling::down);
    const SpindleSpeed speed = SpindleSpeed::from_rpm(5000);
    const double depth = 1.2e-3;
    const MarchSetting setting{.revolutions = 60, .leaves_cut = false};
    const double without =
        growth_per_tooth(time_march(system.receptance, cut_of(system, depth), speed, setting));
    system.law.process_damping = 5e4;
    const double with =
        growth_per_tooth(time_march(system.receptance, cut_of(system, depth), speed, setting));
    EXPECT_GT(without, 1);
    EXPECT_LT(with, without - 0.02);
}

}  // namespace
}  // namespace standfast
