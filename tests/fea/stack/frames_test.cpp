#include "fea/stack/frames.hpp"

#include <gtest/gtest.h>

#include <Eigen/LU>
#include <cmath>
#include <numbers>
#include <stdexcept>

#include "fea/stack/stack_model.hpp"
#include "tests/fea/stack/sample_stack.hpp"

namespace standfast {
namespace {

constexpr double kDegree = std::numbers::pi / 180;

TEST(Frames, ToolAxesAreARightHandedTriad) {
    for (const double tilt : {0.0, 0.4, 1.9}) {
        for (const double turn : {-2.0, 0.0, 1.1}) {
            const Eigen::Matrix3d axes = tool_axes(tilt, turn, 0.7);
            EXPECT_LT((axes.transpose() * axes - Eigen::Matrix3d::Identity()).norm(), 1e-14);
            EXPECT_NEAR(axes.determinant(), 1, 1e-14);
        }
    }
}

TEST(Frames, UprightToolFeedingAlongXHasTheStacksAxes) {
    EXPECT_LT((tool_axes(0, 0, 0) - Eigen::Matrix3d::Identity()).norm(), 1e-15);
}

TEST(Frames, TheSpindleLeansTowardTheTurn) {
    const double tilt = 30 * kDegree, turn = 50 * kDegree;
    const Eigen::Vector3d spindle = tool_axes(tilt, turn, 0.3).col(2);
    EXPECT_NEAR(std::acos(spindle.z()), tilt, 1e-12);
    EXPECT_NEAR(std::atan2(spindle.y(), spindle.x()), turn, 1e-12);
}

TEST(Frames, FeedHeadingTurnsTheFeedAboutTheToolOnly) {
    const Eigen::Matrix3d before = tool_axes(0.6, 0.2, 0), after = tool_axes(0.6, 0.2, 0.9);
    EXPECT_LT((before.col(2) - after.col(2)).norm(), 1e-14);
    EXPECT_NEAR(before.col(0).dot(after.col(0)), std::cos(0.9), 1e-14);
    EXPECT_NEAR(before.col(1).dot(after.col(0)), std::sin(0.9), 1e-14);
}

TEST(Frames, ClimbMillingTheWallAtPlusXFeedsTowardMinusY) {
    // A right-hand cutter that climbs keeps the finished wall on its right, seen along the feed:
    // common practice, no source. With the tool outside a +x wall the feed then runs to -y.
    EXPECT_NEAR(feed_heading_for_wall(0, 0, Eigen::Vector3d::UnitX(), true), -90 * kDegree, 1e-12);
    EXPECT_NEAR(feed_heading_for_wall(0, 0, Eigen::Vector3d::UnitX(), false), 90 * kDegree, 1e-12);
}

TEST(Frames, TheWallLiesWhereTheCutLeavesIt) {
    for (const double tilt : {0.0, 0.5, 1.7}) {
        for (const double turn : {-1.0, 0.0, 2.5}) {
            for (const bool down : {true, false}) {
                const Eigen::Vector3d wall = Eigen::Vector3d(0.3, -0.9, 0.2).normalized();
                const double heading = feed_heading_for_wall(tilt, turn, wall, down);
                const Eigen::Matrix3d axes = tool_axes(tilt, turn, heading);
                EXPECT_NEAR(axes.col(0).dot(wall), 0, 1e-12) << "the feed runs along the wall";
                EXPECT_GT((down ? 1 : -1) * axes.col(1).dot(wall), 0);
                EXPECT_GT(heading, -std::numbers::pi);
                EXPECT_LE(heading, std::numbers::pi);
            }
        }
    }
}

TEST(Frames, AWallAcrossTheToolAxisHasNoFeedHeading) {
    EXPECT_THROW(feed_heading_for_wall(0, 0, Eigen::Vector3d::UnitZ(), true), std::domain_error);
    EXPECT_THROW(feed_heading_for_wall(0, 0, {std::sin(0.9 * kDegree), 0, 1}, true),
                 std::domain_error);
    EXPECT_NO_THROW(feed_heading_for_wall(0, 0, {std::sin(1.1 * kDegree), 0, 1}, true));
}

TEST(Frames, ATiltThatIsNoNumberIsRefused) {
    EXPECT_THROW(tool_axes(std::nan(""), 0, 0), std::domain_error);
}

TEST(Frames, APartOnATwentyDegreeFaceShowsItsFifthSideSquareAtHundredAndTen) {
    // 90 + 20 = 110 deg: common practice, no source.
    Stack stack;
    stack.tiers.push_back(sample::tier("pyramid", sample::steel_4140(), BlockShape{0.1, 0.1}, 0.1,
                                       sample::solid_joint()));
    Tier part = sample::tier("part", sample::aluminium_6061(), BlockShape{0.04, 0.03}, 0.05,
                             sample::solid_joint());
    part.placement.host = 0;
    part.placement.at = Eigen::Vector3d(0.03, 0, 0.08);
    part.placement.lean = 20 * kDegree;
    stack.tiers.push_back(part);
    const TierFrame frame = tier_frames(stack)[1];
    const Eigen::Vector3d downhill_side = frame.axes.col(0);
    const Eigen::Vector3d spindle = tool_axes(110 * kDegree, 0, 0).col(2);
    EXPECT_LT((spindle - downhill_side).norm(), 1e-12);
    EXPECT_NEAR(std::acos(frame.axes.col(2).z()), 20 * kDegree, 1e-12);
}

TEST(Frames, LeanThenHeadingThenSpinAboutTheOwnAxis) {
    Stack stack;
    Tier host = sample::tier("tower", sample::steel_4140(), BlockShape{0.1, 0.1}, 0.3,
                             sample::solid_joint());
    host.placement.heading = 30 * kDegree;
    stack.tiers.push_back(host);
    Tier part = host;
    part.placement = {.host = 0,
                      .at = Eigen::Vector3d(0.05, 0, 0.2),
                      .lean = 90 * kDegree,
                      .heading = 0,
                      .spin = 90 * kDegree};
    stack.tiers.push_back(part);
    const std::vector<TierFrame> frames = tier_frames(stack);
    const Eigen::Vector3d out(std::cos(30 * kDegree), std::sin(30 * kDegree), 0);
    EXPECT_LT((frames[1].foot - (0.05 * out + Eigen::Vector3d(0, 0, 0.2))).norm(), 1e-12);
    EXPECT_LT((frames[1].axes.col(2) - out).norm(), 1e-12) << "it sticks out of the tower's side";
    // Without spin its x would point down; spun by 90 deg it points where its y did: along the
    // tower's own y.
    EXPECT_LT((frames[1].axes.col(0) - frames[0].axes.col(1)).norm(), 1e-12);
}

TEST(Frames, AHostThatComesLaterIsRefused) {
    Stack stack;
    Tier part = sample::tier("part", sample::aluminium_6061(), BlockShape{0.04, 0.03}, 0.05,
                             sample::solid_joint());
    part.placement.host = 1;
    stack.tiers = {part, part};
    EXPECT_THROW(tier_frames(stack), std::domain_error);
}

}  // namespace
}  // namespace standfast
