#include "fea/judgement/uncertainty/chatter_odds.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "fea/chatter/limits/depth_stability.hpp"
#include "fea/chatter/limits/limit_search.hpp"
#include "fea/chatter/map/floquet.hpp"

namespace standfast {
namespace {

/// The low-immersion benchmark of Insperger and Stepan, Int. J. Numer. Meth. Eng. 61 (2004)
/// 117-141: 922 Hz, zeta 0.011, 0.03993 kg, two straight teeth, 600 and 200 N/mm^2 (parameters
/// from memory, widely repeated), down-milling.
DelaySystem benchmark(double stiffness_factor, double damping_factor, double immersion) {
    DelaySystem system;
    system.receptance.terms = {
        {.frequency = AngularFrequency::from_hertz(922 * std::sqrt(stiffness_factor)),
         .damping_ratio = 0.011 * damping_factor,
         .shape = Eigen::Vector3d{1 / std::sqrt(0.03993), 0, 0}}};
    system.cutter = {.diameter = 0.012, .helix = 0, .tooth_angle = {0, 3.14159265358979323846}};
    system.engagement = engagement(Milling::down, immersion * 0.012, 0.012);
    system.law = {.tangential = 6e8, .radial = 2e8};
    return system;
}

const std::vector<Spread> kSpreads{{.group = "stiffness", .factor = 1.3},
                                   {.group = "damping", .factor = 1.5}};

std::vector<DelaySystem> drawn(const Draws& draws) {
    std::vector<DelaySystem> systems;
    for (Eigen::Index draw = 0; draw < draws.count(); ++draw) {
        systems.push_back(benchmark(draws.factor(draw, 0), draws.factor(draw, 1), 0.5));
    }
    return systems;
}

const std::vector<SpindleSpeed> kStart{SpindleSpeed::from_rpm(6000), SpindleSpeed::from_rpm(7000),
                                       SpindleSpeed::from_rpm(8000), SpindleSpeed::from_rpm(9000)};

TEST(ChatterOdds, WithoutSpreadTheShareIsTheNominalAnswer) {
    const std::vector<DelaySystem> same(8, benchmark(1, 1, 0.05));
    for (const double rpm : {5200.0, 5600.0, 9000.0, 9800.0}) {
        const SpindleSpeed speed = SpindleSpeed::from_rpm(rpm);
        const double limit = *periodic_limit(same.front(), speed, 0.06).limit;
        EXPECT_EQ(unstable_share(same, {speed}, 0.97 * limit).front(), 0) << rpm;
        EXPECT_EQ(unstable_share(same, {speed}, 1.03 * limit).front(), 1) << rpm;
    }
}

TEST(ChatterOdds, ASmallShareIsTheShareAndALargeOneIsNotCountedToTheEnd) {
    const std::vector<DelaySystem> draws = drawn(latin_hypercube(kSpreads, 64, 1));
    for (const SpindleSpeed speed : kStart) {
        const double share = unstable_share(draws, {speed}, 0.0009).front();
        EXPECT_EQ(unstable_share_below(draws, speed, 0.0009, share + 0.01), share);
        if (share > 0) {
            EXPECT_FALSE(unstable_share_below(draws, speed, 0.0009, share));
        }
    }
}

TEST(ChatterOdds, AgreeWithPlainSamplingOfTwentyThousandDraws) {
    const double depth = 0.0009;
    const Draws many = plain_draws(kSpreads, 20000, 99);
    const std::vector<double> brute = unstable_share(drawn(many), kStart, depth);
    const Draws few = latin_hypercube(kSpreads, 256, 1);
    const std::vector<double> odds = unstable_share(drawn(few), kStart, depth);
    for (std::size_t i = 0; i < kStart.size(); ++i) {
        const double error = std::sqrt(brute[i] * (1 - brute[i]) / 256) + 1e-3;
        EXPECT_NEAR(odds[i], brute[i], 3 * error) << kStart[i].rpm();
    }
}

TEST(ChatterOdds, StatedSamplingErrorCoversWhatOtherSeedsGive) {
    const double depth = 0.0009;
    const SpindleSpeed judged = kStart[2];
    std::vector<double> shares;
    double stated = 0;
    for (std::uint64_t seed = 0; seed < 12; ++seed) {
        const ChatterOdds odds =
            chatter_odds(drawn(latin_hypercube(kSpreads, 128, seed)), {judged}, judged, depth,
                         {0.1, 0.5}, {.draws = 128, .seed = seed, .least_speeds = 1});
        shares.push_back(odds.at_judged);
        stated = odds.sampling_error;
    }
    double mean = 0, square = 0;
    for (const double share : shares) mean += share / 12;
    for (const double share : shares) square += std::pow(share - mean, 2) / 11;
    EXPECT_LT(std::sqrt(square), 1.5 * stated);
    EXPECT_GT(mean, 0.02);
    EXPECT_LT(mean, 0.98);
}

TEST(ChatterOdds, AreTheSameAgain) {
    const auto once = [] {
        return chatter_odds(drawn(latin_hypercube(kSpreads, 32, 4)), kStart, kStart[1], 0.0009,
                            {0.1, 0.5}, {.draws = 32, .seed = 4, .least_speeds = 12});
    };
    const ChatterOdds a = once(), b = once();
    EXPECT_EQ(a.speed, b.speed);
    EXPECT_EQ(a.unstable, b.unstable);
}

TEST(ChatterOdds, RefineWhereTheLevelChanges) {
    const ChatterOdds odds =
        chatter_odds(drawn(latin_hypercube(kSpreads, 32, 4)), kStart, kStart[1], 0.0009, {0.1, 0.5},
                     {.draws = 32, .seed = 4, .least_speeds = 30});
    EXPECT_GE(odds.speed.size(), 30U);
    EXPECT_TRUE(std::is_sorted(odds.speed.begin(), odds.speed.end()));
    EXPECT_GT(odds.interpolation_worst, 0);
    EXPECT_LE(odds.interpolation_rms, odds.interpolation_worst);
}

TEST(ChatterOdds, NeverFallWithDepthBelowTheFirstLimitOfEveryDraw) {
    const std::vector<DelaySystem> draws = drawn(latin_hypercube(kSpreads, 64, 4));
    const double shallow = unstable_share(draws, {kStart[0]}, 0.0005).front();
    const double deeper = unstable_share(draws, {kStart[0]}, 0.0008).front();
    EXPECT_LE(shallow, deeper);
}

TEST(ChatterOdds, GrowthIsTheLargestMultiplierDespiteIdleModes) {
    DelaySystem system = benchmark(1, 1, 0.1);
    system.receptance.terms.push_back({.frequency = AngularFrequency::from_hertz(9000),
                                       .damping_ratio = 0.05,
                                       .shape = Eigen::Vector3d{0.3, 0.3, 0}});
    const SpindleSpeed speed = SpindleSpeed::from_rpm(8000);
    const double depth = 0.0012;
    EXPECT_NEAR(growth(prepare_depth(system, depth), speed),
                largest_multiplier(system, speed, depth, 1e-7).radius(), 2e-3);
}

TEST(ChatterOdds, InfluencesNameTheUnknownThatMatters) {
    const Draws draws = latin_hypercube(kSpreads, 200, 3);
    const Eigen::VectorXd value =
        2 * draws.factor.col(0).array().log() + 0.1 * draws.factor.col(1).array().log();
    const std::vector<Influence> influences = influences_on(value, draws);
    ASSERT_GE(influences.size(), 2U);
    EXPECT_EQ(influences[0].group, "stiffness");
    double sum = 0;
    for (const Influence& one : influences) sum += one.share;
    EXPECT_NEAR(sum, 1, 0.05);
    EXPECT_GT(influences[0].share, 0.9);
}

}  // namespace
}  // namespace standfast
