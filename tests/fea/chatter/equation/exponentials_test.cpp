#include "fea/chatter/equation/exponentials.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <complex>
#include <random>

namespace standfast {
namespace {

TEST(Exponentials, AreThoseOfTheStandardLibraryToTheLastDigits) {
    std::mt19937 random(7);
    for (const double widest : {1.0, 10.0, 1e3, 1e6}) {
        std::uniform_real_distribution<double> decay(-8, 8), angle(-widest, widest);
        // 37 x 3: no whole number of the blocks in which they are worked on.
        Eigen::MatrixXcd exponent(37, 3);
        for (std::complex<double>& entry : exponent.reshaped()) {
            entry = {decay(random), angle(random)};
        }
        const Eigen::MatrixXcd found = exponentials(exponent);
        for (Eigen::Index i = 0; i < exponent.size(); ++i) {
            const std::complex<double> expected = std::exp(exponent(i));
            EXPECT_LE(std::abs(found(i) - expected), 1e-15 * std::abs(expected)) << exponent(i);
        }
    }
}

TEST(Exponentials, OfNothingAreOne) {
    EXPECT_EQ(exponentials(Eigen::MatrixXcd::Zero(2, 2)), Eigen::MatrixXcd::Ones(2, 2));
    EXPECT_EQ(exponentials(Eigen::MatrixXcd(0, 0)).size(), 0);
}

}  // namespace
}  // namespace standfast
