#include "fea/studies/regression/assignment.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <numeric>
#include <random>

namespace standfast {
namespace {

double total_of(const Eigen::MatrixXd& cost, const std::vector<Eigen::Index>& column) {
    double total = 0;
    for (std::size_t row = 0; row < column.size(); ++row)
        total += cost(static_cast<Eigen::Index>(row), column[row]);
    return total;
}

/// By trying every order.
double least_of_all(const Eigen::MatrixXd& cost) {
    std::vector<Eigen::Index> order(static_cast<std::size_t>(cost.cols()));
    std::iota(order.begin(), order.end(), Eigen::Index{0});
    double least = 1e300;
    do {
        double total = 0;
        for (Eigen::Index row = 0; row < cost.rows(); ++row)
            total += cost(row, order[static_cast<std::size_t>(row)]);
        least = std::min(least, total);
    } while (std::next_permutation(order.begin(), order.end()));
    return least;
}

TEST(Assignment, IsAsCheapAsTheCheapestOfAllOrders) {
    std::mt19937 stream(7);
    std::uniform_real_distribution<double> uniform(-1, 5);
    for (int trial = 0; trial < 60; ++trial) {
        const Eigen::Index rows = 1 + trial % 5, columns = rows + trial % 3;
        const Eigen::MatrixXd cost =
            Eigen::MatrixXd::NullaryExpr(rows, columns, [&] { return uniform(stream); });
        std::vector<Eigen::Index> column = cheapest_assignment(cost);
        EXPECT_NEAR(total_of(cost, column), least_of_all(cost), 1e-12) << cost;
        std::sort(column.begin(), column.end());
        EXPECT_EQ(std::adjacent_find(column.begin(), column.end()), column.end());
    }
}

TEST(Assignment, MoreRowsThanColumnsAreRefused) {
    EXPECT_THROW(cheapest_assignment(Eigen::MatrixXd::Zero(3, 2)), std::domain_error);
}

}  // namespace
}  // namespace standfast
