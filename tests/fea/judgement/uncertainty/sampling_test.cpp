#include "fea/judgement/uncertainty/sampling.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace standfast {
namespace {

struct Quantile {
    double probability, value;
};

// Abramowitz & Stegun, Handbook of Mathematical Functions (1964), table 26.5 (normal quantiles to
// five decimals; from memory).
constexpr Quantile kTable26_5[] = {{0.10, -1.28155}, {0.05, -1.64485},  {0.025, -1.95996},
                                   {0.01, -2.32635}, {0.001, -3.09023}, {0.25, -0.67449}};

TEST(Sampling, NormalQuantilesMatchTheHandbook) {
    for (const Quantile& row : kTable26_5) {
        EXPECT_NEAR(normal_quantile(row.probability), row.value, 6e-6) << row.probability;
        EXPECT_DOUBLE_EQ(normal_quantile(1 - row.probability),
                         -normal_quantile(1 - (1 - row.probability)))
            << row.probability;
    }
}

TEST(Sampling, QuantileUndoesTheDistributionFarIntoTheTail) {
    for (const double value : {-8.0, -6.0, -3.0, -1.0, -0.1, 0.0, 0.5}) {
        const double probability = 0.5 * std::erfc(-value / std::sqrt(2.0));
        EXPECT_NEAR(normal_quantile(probability), value, 1e-11 * (1 + std::abs(value)));
    }
}

TEST(Sampling, EveryShareOfProbabilityIsMetOnce) {
    const int count = 64;
    const Draws draws = latin_hypercube({{.group = "joint", .factor = 2}}, count, 7);
    std::vector<int> met(count, 0);
    for (Eigen::Index draw = 0; draw < draws.count(); ++draw) {
        const double standard = std::log(draws.factor(draw, 0)) / log_deviation(2);
        const double probability = 0.5 * std::erfc(-standard / std::sqrt(2.0));
        ++met.at(static_cast<std::size_t>(probability * count));
    }
    EXPECT_TRUE(std::all_of(met.begin(), met.end(), [](int times) { return times == 1; }));
}

TEST(Sampling, ATenthLiesAboveTheTenNinetyFactor) {
    const Draws draws = latin_hypercube({{.group = "joint", .factor = 2}}, 1000, 1);
    const auto above = (draws.factor.col(0).array() > 2).count();
    const auto below = (draws.factor.col(0).array() < 0.5).count();
    EXPECT_NEAR(static_cast<double>(above), 100, 1);
    EXPECT_NEAR(static_cast<double>(below), 100, 1);
}

TEST(Sampling, SameSeedGivesTheSameDrawsAndAnotherSeedOthers) {
    const std::vector<Spread> spreads{{.group = "a", .factor = 2}, {.group = "b", .factor = 1.5}};
    EXPECT_EQ(latin_hypercube(spreads, 32, 5).factor, latin_hypercube(spreads, 32, 5).factor);
    EXPECT_NE(latin_hypercube(spreads, 32, 5).factor, latin_hypercube(spreads, 32, 6).factor);
}

TEST(Sampling, AnotherGroupLeavesTheDrawsOfTheFirstAsTheyWere) {
    const Draws one = latin_hypercube({{.group = "a", .factor = 2}}, 32, 5);
    const Draws two =
        latin_hypercube({{.group = "b", .factor = 2}, {.group = "a", .factor = 2}}, 32, 5);
    EXPECT_EQ(one.factor.col(0), two.factor.col(1));
}

TEST(Sampling, ColumnsAreUncorrelatedWithinTheirSamplingError) {
    const Draws draws =
        latin_hypercube({{.group = "a", .factor = 2}, {.group = "b", .factor = 3}}, 2000, 11);
    const Eigen::ArrayXd a = draws.factor.col(0).array().log();
    const Eigen::ArrayXd b = draws.factor.col(1).array().log();
    const double correlation = (a * b).mean() / std::sqrt(a.square().mean() * b.square().mean());
    EXPECT_LT(std::abs(correlation), 4 / std::sqrt(2000.0));
}

TEST(Sampling, StratifiedMeansScatterFarLessThanPlainOnes) {
    const std::vector<Spread> spreads{{.group = "a", .factor = 2}};
    double stratified = 0, plain = 0;
    for (std::uint64_t seed = 0; seed < 40; ++seed) {
        stratified += std::pow(latin_hypercube(spreads, 64, seed).factor.array().log().mean(), 2);
        plain += std::pow(plain_draws(spreads, 64, seed).factor.array().log().mean(), 2);
    }
    EXPECT_LT(stratified, plain / 50);
}

TEST(Sampling, CertainGroupsStayAtOne) {
    const Draws draws = latin_hypercube({{.group = "a", .factor = 1}}, 16, 3);
    EXPECT_TRUE((draws.factor.array() == 1).all());
}

TEST(Sampling, AFactorBelowOneIsRefused) {
    EXPECT_THROW(latin_hypercube({{.group = "a", .factor = 0.5}}, 16, 3), std::domain_error);
    EXPECT_THROW(latin_hypercube({{.group = "a", .factor = 2}}, 0, 3), std::domain_error);
}

}  // namespace
}  // namespace standfast
