// Parts on the faces of a pyramid and on the sides of a tower.
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <string>

#include "cli/job/read/pass_axes.hpp"
#include "cli/job/read_job.hpp"
#include "fea/stack/stack_model.hpp"

namespace standfast {
namespace {

constexpr double kDegree = std::numbers::pi / 180;

Job read(const std::string& name) {
    const ReadResult result =
        read_job(std::string(STANDFAST_SOURCE_DIR) + "/tests/cli/job/" + name);
    EXPECT_TRUE(result.job) << format_diagnostics(result.errors);
    return result.job.value_or(Job{});
}

// A face inclined 20 deg from the table plane has a normal that leans 20 deg from the vertical.
TEST(JobTree, PyramidPartsLeanTwentyDegreesEachToItsOwnSide) {
    const Job job = read("pyramid.toml");
    ASSERT_EQ(job.stack.tiers.size(), 4U);
    for (std::size_t i = 1; i < 4; ++i) {
        const Eigen::Vector3d axis = tier_axes(job.stack, i).col(2);
        const double heading = 120.0 * static_cast<double>(i - 1) * kDegree;
        EXPECT_EQ(job.stack.tiers[i].placement.host, 0U);
        EXPECT_NEAR(axis.z(), std::cos(20 * kDegree), 1e-12);
        EXPECT_NEAR(axis.x(), std::sin(20 * kDegree) * std::cos(heading), 1e-12);
        EXPECT_NEAR(axis.y(), std::sin(20 * kDegree) * std::sin(heading), 1e-12);
    }
}

TEST(JobTree, TiltAndTurnThatMatchAFaceStandTheToolSquareToIt) {
    const Job job = read("pyramid.toml");
    EXPECT_NEAR(spindle_in_tier(job, job.passes[0]).z(), 1, 1e-12);
    EXPECT_NEAR(spindle_in_tier(job, job.passes[1]).z(), 1, 1e-12);
}

// 90 + 20 = 110 deg (common practice, no source): the side that looks down the pyramid.
TEST(JobTree, FifthSideOfALeaningPartIsReachedAtAHundredAndTenDegrees) {
    const Job job = read("pyramid.toml");
    EXPECT_NEAR(spindle_in_tier(job, job.passes[2]).x(), 1, 1e-12);
}

TEST(JobTree, TowerPartsPointAwayFromTheTower) {
    const Job job = read("tower.toml");
    ASSERT_EQ(job.stack.tiers.size(), 5U);
    for (std::size_t i = 1; i < 5; ++i) {
        const Tier& tier = job.stack.tiers[i];
        const Eigen::Vector3d axis = tier_axes(job.stack, i).col(2);
        EXPECT_NEAR(axis.z(), 0, 1e-12) << tier.name;
        EXPECT_NEAR(axis.dot(*tier.placement.at), 2 * 0.0254, 1e-12) << tier.name;
    }
    EXPECT_NEAR(spindle_in_tier(job, job.passes[0]).z(), 1, 1e-12);
    EXPECT_NEAR(spindle_in_tier(job, job.passes[1]).z(), 1, 1e-12);
}

TEST(JobTree, ReaderAndModelAgreeOnTheAxesOfEveryTier) {
    for (const char* const name : {"pyramid.toml", "tower.toml"}) {
        const Job job = read(name);
        const std::vector<TierFrame> frames = tier_frames(job.stack);
        for (std::size_t i = 0; i < frames.size(); ++i) {
            EXPECT_LT((frames[i].axes - tier_axes(job.stack, i)).norm(), 1e-12) << name << i;
        }
    }
}

}  // namespace
}  // namespace standfast
