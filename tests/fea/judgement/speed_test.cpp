#include <gtest/gtest.h>

#include <cmath>
#include <stdexcept>

#include "fea/judgement/answer/speed_window.hpp"
#include "fea/judgement/cut/speed_grid.hpp"
#include "fea/judgement/speed/speed_map.hpp"
#include "tests/fea/judgement/sample_job.hpp"

namespace standfast {
namespace {

SpindleSpeed rpm(double value) { return SpindleSpeed::from_rpm(value); }

TEST(SpeedGrid, SpansTheRangeWithoutWideGapsAtEitherEnd) {
    const auto speeds = default_speeds(rpm(500), rpm(12000), 400);
    ASSERT_EQ(speeds.size(), 400U);
    EXPECT_EQ(speeds.front(), rpm(500));
    EXPECT_EQ(speeds.back(), rpm(12000));
    for (std::size_t i = 1; i < speeds.size(); ++i) {
        const double ratio = speeds[i].radians_per_second / speeds[i - 1].radians_per_second;
        EXPECT_GT(ratio, 1);
        EXPECT_LT(ratio, 1.02);
    }
}

TEST(SpeedGrid, IsFinerInRpmWhereLobesAreNarrow) {
    const auto speeds = default_speeds(rpm(500), rpm(12000), 400);
    EXPECT_LT(speeds[1].rpm() - speeds[0].rpm(), 3);
    EXPECT_GT(speeds[399].rpm() - speeds[398].rpm(), 50);
}

TEST(SpeedGrid, RefinesAroundTheLowestMinimaFirst) {
    StabilityLimits limits;
    const std::vector<double> depth = {5, 4, 5, 2, 3, 6, 7};
    for (std::size_t i = 0; i < depth.size(); ++i) {
        SpeedLimit at;
        at.speed = rpm(1000.0 + 100.0 * static_cast<double>(i));
        at.limit = depth[i] * 1e-3;
        limits.speeds.push_back(at);
    }
    const auto added = speeds_near_minima(limits, 2);
    ASSERT_EQ(added.size(), 2U);
    EXPECT_GT(added[0], rpm(1200));
    EXPECT_LT(added[1], rpm(1400));
    EXPECT_EQ(speeds_near_minima(limits, 10).size(), 4U);
}

TEST(SpeedGrid, RefusesARangeThatIsNone) {
    EXPECT_THROW(default_speeds(rpm(0), rpm(100), 10), std::domain_error);
    EXPECT_THROW(default_speeds(rpm(200), rpm(100), 10), std::domain_error);
}

TEST(SpeedWindow, IsTheTightestOfMachineTaperCutterShopAndMaterial) {
    Job job = test_job();
    Pass& pass = job.passes[0];
    // 200 to 600 m/min on 10 mm: 6366 to 19099 rpm; the machine ends at 15000.
    EXPECT_NEAR(offered_window(job, pass).from.rpm(), 200 / (std::numbers::pi * 0.01), 1);
    EXPECT_NEAR(offered_window(job, pass).to.rpm(), 15000, 1e-6);
    job.tools[0].taper.kind.speed_limit = rpm(14000).radians_per_second;
    EXPECT_NEAR(offered_window(job, pass).to.rpm(), 14000, 1e-6);
    job.tools[0].speed_max = rpm(13000);
    EXPECT_NEAR(offered_window(job, pass).to.rpm(), 13000, 1e-6);
    pass.speeds = std::array{rpm(7000), rpm(10000)};
    EXPECT_NEAR(offered_window(job, pass).from.rpm(), 7000, 1e-6);
    EXPECT_NEAR(offered_window(job, pass).to.rpm(), 10000, 1e-6);
}

TEST(SpeedWindow, WithoutMaterialDataStaysNearTheProgrammedSpeed) {
    Job job = test_job();
    job.passes[0].cutting.cutting_speed.reset();
    EXPECT_NEAR(offered_window(job, job.passes[0]).from.rpm(), 0.85 * 9000, 1e-6);
    EXPECT_NEAR(offered_window(job, job.passes[0]).to.rpm(), 1.15 * 9000, 1e-6);
}

TEST(SpeedWindow, OverspeedIsAvoidAndItsOwnLimitIsNot) {
    Job job = test_job();
    job.tools[0].speed_max = rpm(9000);
    EXPECT_TRUE(judge_speed(job, job.passes[0], rpm(9000)).empty());
    const auto over = judge_speed(job, job.passes[0], rpm(9100));
    ASSERT_EQ(over.size(), 1U);
    EXPECT_EQ(over[0].level, Level::avoid);
    EXPECT_EQ(over[0].reason, Reason::overspeed);
}

std::vector<AtSpeed> made_up_map(const std::vector<Level>& levels) {
    std::vector<AtSpeed> map;
    for (std::size_t i = 0; i < levels.size(); ++i) {
        AtSpeed at;
        at.limit.speed = rpm(5000.0 + 60.0 * static_cast<double>(i));
        at.limit.limit = 1e-3 * (1.0 + static_cast<double>(i));
        at.verdict.level = levels[i];
        if (levels[i] != Level::unflagged) at.verdict.reasons = {Reason::chatter};
        map.push_back(at);
    }
    return map;
}

constexpr Level kQuiet = Level::unflagged, kMarginal = Level::marginal, kAvoid = Level::avoid;

TEST(SpeedMap, AQuietBandIsNoNarrowerThanTwoPercent) {
    // 60 rpm apart at 5000 rpm: 1.2 %; two quiet neighbours are too narrow, three are not.
    const auto narrow = made_up_map({kAvoid, kQuiet, kQuiet, kMarginal, kAvoid});
    EXPECT_TRUE(speed_map(narrow, {rpm(1), rpm(1e5)}, Limits{}).quiet_bands.empty());
    const auto wide = made_up_map({kAvoid, kQuiet, kQuiet, kQuiet, kAvoid});
    const SpeedMap map = speed_map(wide, {rpm(1), rpm(1e5)}, Limits{});
    ASSERT_EQ(map.quiet_bands.size(), 1U);
    EXPECT_NEAR(map.quiet_bands[0].from.rpm(), 5060, 1e-6);
    EXPECT_NEAR(map.quiet_bands[0].to.rpm(), 5180, 1e-6);
    EXPECT_NEAR(*map.quiet_bands[0].limit, 2e-3, 1e-12);
}

TEST(SpeedMap, OnlySpeedsThatMayBeOfferedAreQuiet) {
    const auto all = made_up_map(std::vector<Level>(30, kQuiet));
    const SpeedMap map = speed_map(all, {rpm(5500), rpm(6000)}, Limits{});
    ASSERT_EQ(map.quiet_bands.size(), 1U);
    EXPECT_GE(map.quiet_bands[0].from, rpm(5500));
    EXPECT_LE(map.quiet_bands[0].to, rpm(6000));
}

TEST(SpeedMap, StayOffRangesReachHalfwayToBetterSpeeds) {
    const auto mixed = made_up_map({kQuiet, kAvoid, kAvoid, kMarginal, kAvoid});
    const SpeedMap map = speed_map(mixed, {rpm(1), rpm(1e5)}, Limits{});
    ASSERT_EQ(map.stay_off.size(), 2U);
    EXPECT_NEAR(map.stay_off[0].from.rpm(), 5030, 1e-6);
    EXPECT_NEAR(map.stay_off[0].to.rpm(), 5150, 1e-6);
    EXPECT_EQ(map.stay_off[0].reason, Reason::chatter);
    EXPECT_NEAR(map.stay_off[1].to.rpm(), 5240, 1e-6);
}

}  // namespace
}  // namespace standfast
