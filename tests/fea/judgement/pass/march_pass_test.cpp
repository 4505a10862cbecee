// What following a pass in time says, against the limits and the harmonic sum of the stable cut.
#include "fea/judgement/pass/march_pass.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "fea/chatter/limits/limit_search.hpp"
#include "fea/chatter/map/floquet.hpp"
#include "fea/chatter/motion/surface_error.hpp"
#include "fea/judgement/pass/check.hpp"
#include "tests/fea/chatter/stability_cases.hpp"
#include "tests/fea/judgement/sample_job.hpp"

namespace standfast {
namespace {

using reference::benchmark_system;

MarchResult marched(const DelaySystem& system, double rpm, double depth) {
    const RigidCut cut{system.cutter, system.engagement, system.law, 1e-4, depth};
    return march_cut(system.receptance, cut, SpindleSpeed::from_rpm(rpm));
}

TEST(MarchPass, DiesAwayBelowTheLimitAndGrowsAboveIt) {
    const DelaySystem system = benchmark_system(1, 0.5, Milling::down);
    const SpindleSpeed speed = SpindleSpeed::from_rpm(8000);
    const double limit = *periodic_limit(system, speed, 0.06, 1.0).limit;
    const MarchResult below = marched(system, 8000, 0.95 * limit);
    EXPECT_EQ(below.outcome, MarchOutcome::dies_away);
    ASSERT_TRUE(below.growth_per_tooth);
    EXPECT_NEAR(*below.growth_per_tooth, largest_multiplier(system, speed, 0.95 * limit).radius(),
                3e-3);
    EXPECT_TRUE(below.error);
    const MarchResult above = marched(system, 8000, 1.1 * limit);
    EXPECT_EQ(above.outcome, MarchOutcome::grows);
    EXPECT_GT(*above.growth_per_tooth, 1);
    EXPECT_FALSE(above.error);
    EXPECT_GT(above.peak_to_peak.norm(), 2 * below.peak_to_peak.norm());
}

TEST(MarchPass, TellsPeriodDoublingFromChatter) {
    const DelaySystem system = benchmark_system(1, 0.05, Milling::down);
    const double limit = *periodic_limit(system, SpindleSpeed::from_rpm(7400), 0.04, 1.0).limit;
    EXPECT_EQ(marched(system, 7400, 1.15 * limit).outcome, MarchOutcome::period_doubling);
}

TEST(MarchPass, OfAStableJobLeavesTheWallOfTheSurfaceError) {
    Job job = test_job();
    job.passes[0].axial = 1.5e-3;
    CheckOptions options;
    options.advise = false;
    options.march = true;
    options.speeds = {*job.passes[0].speed};
    const PassReport report = check_job(job, options).passes.at(0);
    ASSERT_TRUE(report.march);
    EXPECT_EQ(report.march->outcome, MarchOutcome::dies_away);
    ASSERT_TRUE(report.march->error && report.error_at_programmed);
    // The march takes real modes, the harmonic sum the poles of the direct problem: 1 to 3 % apart.
    EXPECT_NEAR(*report.march->error, *report.error_at_programmed,
                0.02 * std::abs(*report.error_at_programmed));
    EXPECT_NEAR(report.march->peak_to_peak.y(), *report.vibration_at_programmed,
                0.02 * *report.vibration_at_programmed);
    EXPECT_NEAR(*report.march->waviness, *report.waviness_at_programmed,
                1e-2 * *report.waviness_at_programmed);
}

}  // namespace
}  // namespace standfast
