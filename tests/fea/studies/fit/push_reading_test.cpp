#include "fea/studies/fit/push_reading.hpp"

#include <gtest/gtest.h>

namespace standfast {
namespace {

PushTest push(std::vector<double> moved, std::vector<double> returned = {}) {
    PushTest test;
    test.force = 200;
    test.moved = std::move(moved);
    test.returned = std::move(returned);
    test.division = 1e-6;
    return test;
}

TEST(PushReading, WhatComesBackIsWhatCounts) {
    const PushReading reading = push_reading(push({22e-6, 20e-6}, {2e-6, 0}), std::nullopt);
    EXPECT_NEAR(reading.moved, 20e-6, 1e-12);
    EXPECT_TRUE(reading.warnings.empty());
}

TEST(PushReading, APushThatStaysIsWarnedOf) {
    const PushReading reading = push_reading(push({20e-6}, {6e-6}), std::nullopt);
    ASSERT_EQ(reading.warnings.size(), 1U);
    EXPECT_NE(reading.warnings[0].find("does not come back"), std::string::npos);
    EXPECT_GT(reading.deviation, push_reading(push({14e-6}), std::nullopt).deviation);
}

TEST(PushReading, UnderFiveDivisionsIsWarnedOfAndFiveAreNot) {
    EXPECT_EQ(push_reading(push({4.9e-6}), std::nullopt).warnings.size(), 1U);
    EXPECT_TRUE(push_reading(push({5.1e-6}), std::nullopt).warnings.empty());
}

TEST(PushReading, ADialThatDidNotMoveTellsNothing) {
    for (const double moved : {0.0, 0.4e-6, -0.9e-6}) {
        const PushReading reading = push_reading(push({moved}), std::nullopt);
        EXPECT_FALSE(reading.counts) << moved;
        ASSERT_EQ(reading.warnings.size(), 1U) << moved;
        EXPECT_NE(reading.warnings[0].find("did not move"), std::string::npos);
        // Wider than anything that a stack gives under a hand's push.
        EXPECT_GE(reading.deviation, 1e-3) << moved;
    }
}

TEST(PushReading, AMovementAgainstThePushIsASignToAskAbout) {
    const PushReading reading = push_reading(push({-20e-6}), std::nullopt);
    EXPECT_FALSE(reading.counts);
    ASSERT_EQ(reading.warnings.size(), 1U);
    EXPECT_NE(reading.warnings[0].find("sign reversed?"), std::string::npos);
    PushTest across = push({-20e-6});
    across.read_direction = Eigen::Vector3d::UnitY();
    EXPECT_TRUE(push_reading(across, std::nullopt).counts);
}

TEST(PushReading, NoReadingIsSurerThanHalfADivision) {
    for (const double moved : {2e-6, 6e-6, 20e-6}) {
        EXPECT_GE(push_reading(push({moved}), 0.001).deviation, 0.5e-6) << moved;
    }
}

TEST(PushReading, RepeatsThatScatterCountLess) {
    const double steady = push_reading(push({20e-6, 20e-6, 20e-6}), std::nullopt).deviation;
    EXPECT_GT(push_reading(push({14e-6, 20e-6, 26e-6}), std::nullopt).deviation, 2 * steady);
}

TEST(PushReading, AgainstTheFloorIsLessCertainAndSaid) {
    // So far that the dial's own error does not matter.
    PushTest floor = push({60e-6});
    floor.against = IndicatorBase::floor;
    const PushReading reading = push_reading(floor, std::nullopt);
    EXPECT_EQ(reading.warnings.size(), 1U);
    EXPECT_GT(reading.deviation, 2 * push_reading(push({60e-6}), std::nullopt).deviation);
}

}  // namespace
}  // namespace standfast
