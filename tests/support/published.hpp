#pragma once

#include <gtest/gtest.h>

#include <cmath>
#include <complex>
#include <iomanip>
#include <string>
#include <vector>

namespace standfast::test {

/// Is `actual` within a relative tolerance of `expected`? The failure says everything.
inline testing::AssertionResult within(double actual, double expected, double relative) {
    const double error = (actual - expected) / std::abs(expected);
    if (std::abs(error) <= relative) return testing::AssertionSuccess();
    auto failure = testing::AssertionFailure();
    failure << std::setprecision(8) << "got " << actual << ", expected " << expected << ": off by "
            << 100 * error << " %, allowed " << 100 * relative << " %";
    return failure;
}

/// The same for a complex value, by the size of the difference.
inline testing::AssertionResult within(std::complex<double> actual, std::complex<double> expected,
                                       double relative) {
    const double error = std::abs(actual - expected) / std::abs(expected);
    if (error <= relative) return testing::AssertionSuccess();
    auto failure = testing::AssertionFailure();
    failure << std::setprecision(8) << "got " << actual << ", expected " << expected << ": off by "
            << 100 * error << " %, allowed " << 100 * relative << " %";
    return failure;
}

/// A printed list against the first of what was found.
inline void expect_list(const std::vector<double>& actual, const std::vector<double>& printed,
                        double relative, const std::string& what) {
    ASSERT_GE(actual.size(), printed.size()) << what;
    for (std::size_t i = 0; i < printed.size(); ++i) {
        EXPECT_TRUE(within(actual[i], printed[i], relative)) << what << ", entry " << i + 1;
    }
}

}  // namespace standfast::test
