#include "cli/report/common/number.hpp"

#include <gtest/gtest.h>

namespace standfast {
namespace {

constexpr UnitSystem kMetric = UnitSystem::metric;
constexpr UnitSystem kInch = UnitSystem::inch;

TEST(ShopRounding, SizesAreAsProgrammed) {
    EXPECT_EQ(length_text(0.05715, kMetric), "57.15 mm");
    EXPECT_EQ(length_text(0.05715, kInch), "2.25 in");
    EXPECT_EQ(length_text(0.000254, kInch), "0.01 in");
}

TEST(ShopRounding, DepthsGoByHalfAMillimetreOrTwoHundredthsOfAnInch) {
    EXPECT_EQ(depth_text(0.00742, kMetric), "7.5 mm");
    EXPECT_EQ(depth_text(0.0128, kInch), "0.5 in");
    EXPECT_EQ(depth_text(0.0200, kMetric), "20 mm");
}

TEST(ShopRounding, ShallowDepthsKeepADigitThatMatters) {
    EXPECT_EQ(depth_text(0.00032, kMetric), "0.3 mm");
    EXPECT_EQ(depth_text(0.00002, kMetric), "under 0.1 mm");
    EXPECT_EQ(depth_text(0.00032, kInch), "0.015 in");
}

TEST(ShopRounding, ADepthToSetIsNeverDeeperThanTheOneThatWasJudged) {
    EXPECT_EQ(depth_to_set(0.87e-3, kMetric), "0.87 mm");
    EXPECT_EQ(depth_to_set(2.38e-3, kMetric), "2.3 mm");
    EXPECT_EQ(depth_to_set(8e-3, kMetric), "8 mm");
    EXPECT_EQ(depth_to_set(0.0149 * 0.0254, kInch), "0.014 in");
    for (const UnitSystem units : {kMetric, kInch}) {
        const double unit = units == kMetric ? 1e-3 : 0.0254;
        for (double depth = 0.05e-3; depth < 60e-3; depth *= 1.037) {
            const double set = std::stod(depth_to_set(depth, units)) * unit;
            EXPECT_LE(set, depth * (1 + 1e-6)) << depth;
            EXPECT_GT(set, depth - 0.1001e-3) << depth;
        }
    }
}

TEST(ShopRounding, AnEdgeShownBesideTheProgrammedDepthStaysOnItsSide) {
    EXPECT_EQ(depth_text_beside(0.0128, 0.0127, kMetric), "12.8 mm");
    EXPECT_EQ(depth_text_beside(0.0199, 0.0200, kMetric), "19.9 mm");
    EXPECT_EQ(depth_text_beside(0.01996, 0.0200, kMetric), "19.96 mm");
    EXPECT_EQ(depth_text_beside(0.0074, 0.0200, kMetric), "7.5 mm");
}

TEST(ShopRounding, ErrorsGoByAMicrometreOrATenthOfAThou) {
    EXPECT_EQ(error_text(-0.0000124, kMetric), "0.012 mm");
    EXPECT_EQ(error_text(0.0000127, kInch), "0.0005 in");
    EXPECT_EQ(error_text(0.0000001, kMetric), "under 0.001 mm");
}

TEST(WallError, IsSaidInWordsAndNeverByASign) {
    EXPECT_EQ(wall_text(0.000012, kMetric), "cut too deep 0.012 mm");
    EXPECT_EQ(wall_text(-0.000012, kMetric), "stock left 0.012 mm");
    EXPECT_EQ(wall_text(-0.0000002, kMetric), "on size within 0.001 mm");
    for (const double error : {-1e-3, -1e-5, -1e-7, 0.0, 1e-7, 1e-5, 1e-3}) {
        EXPECT_EQ(wall_text(error, kInch).find('-'), std::string::npos) << error;
        EXPECT_EQ(wall_text(error, kInch).find('+'), std::string::npos) << error;
    }
}

TEST(ShopRounding, SpeedsGoByTenRpmAndBandsRoundInward) {
    EXPECT_EQ(speed_text(SpindleSpeed::from_rpm(8643)), "8640 rpm");
    EXPECT_EQ(speed_number(SpindleSpeed::from_rpm(8641), Toward::up), "8650");
    EXPECT_EQ(speed_number(SpindleSpeed::from_rpm(8649), Toward::down), "8640");
}

TEST(ShopRounding, AWholeSpeedKeptInRadiansDoesNotSlip) {
    for (int rpm = 100; rpm <= 30000; rpm += 10) {
        const SpindleSpeed speed = SpindleSpeed::from_rpm(rpm);
        ASSERT_EQ(speed_number(speed, Toward::up), std::to_string(rpm));
        ASSERT_EQ(speed_number(speed, Toward::down), std::to_string(rpm));
    }
}

TEST(ShopUnits, FeedForceMassAndStressInBothSystems) {
    EXPECT_EQ(feed_text(2.160 / 60, kMetric), "2160 mm/min");
    EXPECT_EQ(feed_text(64.8 * 0.0254 / 60, kInch), "64.8 ipm");
    // 1 lbf = 4.4482216152605 N and 1 lb = 0.45359237 kg by definition (from memory).
    EXPECT_EQ(force_text(100 * 4.4482216152605, kInch), "100 lbf");
    EXPECT_EQ(mass_text(45.359237, kInch), "100 lb");
    EXPECT_EQ(stress_text(6894757.293168 * 100, kInch), "100 ksi");
    EXPECT_EQ(moment_text(1.3558179483314 * 20, kInch), "20 ft lb");
}

TEST(ThreeDigits, KeepThreeAndNoExponent) {
    EXPECT_EQ(three_digits(1234), "1230");
    EXPECT_EQ(three_digits(0.45678), "0.457");
    EXPECT_EQ(three_digits(0), "0");
    EXPECT_EQ(three_digits(9.999), "10");
    EXPECT_EQ(three_digits(1.5e-5), "0.000015");
}

}  // namespace
}  // namespace standfast
