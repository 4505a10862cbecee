#include <gtest/gtest.h>

#include <cmath>

#include "fea/judgement/uncertainty/sampling.hpp"

namespace standfast {
namespace {

double correlation_of(const Draws& draws, Eigen::Index a, Eigen::Index b) {
    const Eigen::ArrayXd x = draws.factor.col(a).array().log();
    const Eigen::ArrayXd y = draws.factor.col(b).array().log();
    const Eigen::ArrayXd dx = x - x.mean(), dy = y - y.mean();
    return (dx * dy).sum() / std::sqrt((dx * dx).sum() * (dy * dy).sum());
}

TEST(HangingTogether, DrawsHaveTheCorrelationAndTheSpreadsThatTheOverlaySays) {
    const std::vector<Spread> spreads{{"riser", 1.5}, {"modulus", 1.1}, {"table", 1.3}};
    FittedTogether together{.groups = {"table", "riser", "somewhere else"},
                            .correlation = Eigen::Matrix3d::Identity()};
    together.correlation(0, 1) = together.correlation(1, 0) = -0.8;
    const Draws free = latin_hypercube(spreads, 4000, 1);
    const Draws mixed = hanging_together(free, spreads, together);
    EXPECT_NEAR(correlation_of(free, 0, 2), 0, 0.05);
    EXPECT_NEAR(correlation_of(mixed, 0, 2), -0.8, 0.03);
    for (const Eigen::Index column : {0, 2}) {
        const double deviation = std::sqrt(mixed.factor.col(column).array().log().square().mean());
        EXPECT_NEAR(deviation, log_deviation(spreads[static_cast<std::size_t>(column)].factor),
                    0.03 * deviation);
    }
    EXPECT_EQ(mixed.factor.col(1), free.factor.col(1)) << "not measured, so as it was";
}

TEST(HangingTogether, OnlyACorrelationIsOne) {
    Eigen::Matrix2d matrix;
    matrix << 1, 0.5, 0.5, 1;
    EXPECT_TRUE(is_correlation(matrix));
    matrix << 1, 1.2, 1.2, 1;
    EXPECT_FALSE(is_correlation(matrix));
    matrix << 1, 0.5, 0.4, 1;
    EXPECT_FALSE(is_correlation(matrix));
    matrix << 1, 0.5, 0.5, 2;
    EXPECT_FALSE(is_correlation(matrix));
    EXPECT_FALSE(is_correlation(Eigen::MatrixXd::Ones(2, 3)));
}

}  // namespace
}  // namespace standfast
