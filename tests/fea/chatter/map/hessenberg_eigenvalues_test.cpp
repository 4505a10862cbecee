#include "fea/chatter/map/hessenberg_eigenvalues.hpp"

#include <gtest/gtest.h>

#include <Eigen/Eigenvalues>
#include <algorithm>
#include <cmath>
#include <random>

#include "fea/chatter/map/floquet.hpp"
#include "tests/fea/chatter/stability_cases.hpp"

namespace standfast {
namespace {

TEST(HessenbergEigenvalues, AgreeWithTheGeneralSolverForGradedAndUngradedMatrices) {
    std::mt19937 random(7);
    std::uniform_real_distribution<double> entry(-1, 1);
    for (int n = 1; n <= 24; ++n) {
        for (const double grading : {1.0, 0.4}) {
            Eigen::MatrixXd h = Eigen::MatrixXd::Zero(n, n);
            for (int i = 0; i < n; ++i)
                for (int j = std::max(0, i - 1); j < n; ++j)
                    h(i, j) = entry(random) * std::pow(grading, i);
            const Eigen::VectorXcd got = hessenberg_eigenvalues(h);
            const Eigen::VectorXcd expected = Eigen::EigenSolver<Eigen::MatrixXd>(h).eigenvalues();
            for (const std::complex<double>& value : expected) {
                const double nearest = (got.array() - value).abs().minCoeff();
                EXPECT_LT(nearest, 1e-11) << "order " << n;
            }
            EXPECT_NEAR(got.sum().real(), h.trace(), 1e-12 * n);
            EXPECT_NEAR(got.sum().imag(), 0, 1e-12 * n);
        }
    }
}

TEST(HessenbergEigenvalues, RootsOfUnityNeedAnExceptionalShift) {
    Eigen::MatrixXd h = Eigen::MatrixXd::Zero(5, 5);
    for (int i = 0; i < 4; ++i) h(i + 1, i) = 1;
    h(0, 4) = 1;
    for (const std::complex<double>& value : hessenberg_eigenvalues(h)) {
        EXPECT_LT(std::abs(std::pow(value, 5) - 1.0), 1e-13);
    }
}

TEST(HessenbergEigenvalues, AMapThatStallsTheSweepsIsStillSolved) {
    // Cell (79, 66) of the 200 x 100 grid, two directions, half immersion.
    const DelaySystem system = reference::benchmark_system(2, 0.5, Milling::down);
    const PeriodMap map(system, SpindleSpeed::from_rpm(5000 + 25 * 79.5), 4e-5 * 66.5, 5);
    EXPECT_NEAR(largest_multiplier(map).radius(), std::hypot(1.78787, 3.97242), 1e-5);
}

}  // namespace
}  // namespace standfast
