#include "fea/chatter/limits/near_one.hpp"

#include <gtest/gtest.h>

#include <Eigen/Eigenvalues>
#include <cmath>
#include <complex>
#include <numbers>

#include "tests/fea/chatter/milling_cases.hpp"

namespace standfast {
namespace {

/// A tool that may sing on a heavy stack whose slow mode dies away slowly whatever is cut.
DelaySystem tool_on_a_heavy_stack() {
    DelaySystem system{
        reference::receptance_of(
            {{1600, 0.03, 9e6, 1, 0}, {1550, 0.03, 9e6, 0, 1}, {95, 0.01, 4e8, 0, 1}}),
        reference::even_cutter(3, 0.012),
        engagement(Milling::down, 0.0036, 0.012),
        {.tangential = 8e8, .radial = 3e8}};
    return system;
}

TEST(MultipliersNearOne, ASlowModeThatTheCutHardlyMovesIsBelieved) {
    const PeriodMap map(tool_on_a_heavy_stack(), SpindleSpeed::from_rpm(9000), 0.0005, 2);
    const MapLook look = look_at(map, 0.06, 0.2);
    // exp(-zeta w T), T = 60/(9000 * 3) s: 0.987, within 0.06 of 1.
    EXPECT_NEAR(look.growth, std::exp(-0.01 * 2 * std::numbers::pi * 95 * 60 / 27000.0), 3e-3);
    EXPECT_TRUE(look.told);
}

TEST(MultipliersNearOne, ThoseOfACutAtItsEdgeAreNotBelieved) {
    const DelaySystem system = tool_on_a_heavy_stack();
    const SpindleSpeed speed = SpindleSpeed::from_rpm(9000);
    double low = 1e-4, high = 0.05;
    while (high / low > 1 + 1e-6) {
        const double middle = std::sqrt(low * high);
        const PeriodMap map(system, speed, middle, 4);
        (std::abs(dominant_eigenpair(map, 1e-6).value) > 1 ? high : low) = middle;
    }
    EXPECT_FALSE(look_at(PeriodMap(system, speed, low, 2), 0.06, 0.2).told);
    EXPECT_TRUE(look_at(PeriodMap(system, speed, 0.3 * low, 2), 0.06, 0.2).told);
    EXPECT_TRUE(look_at(PeriodMap(system, speed, 2 * low, 2), 0.06, 0.2).told);
}

TEST(EigenpairSearch, FindsAllNearOneThatADenseSolutionFinds) {
    const PeriodMap map(tool_on_a_heavy_stack(), SpindleSpeed::from_rpm(9000), 0.002, 3);
    EigenpairSearch search(map, 1e-3);
    search.dominant(1e-2);
    const auto pairs = search.beyond(0.5, 1e-3);
    int expected = 0;
    const Eigen::VectorXcd all = map.matrix().eigenvalues();
    for (const std::complex<double>& value : all) {
        if (std::abs(value) < 0.5 || value.imag() < 0) continue;
        ++expected;
        double nearest = 1;
        for (const MapEigenpair& pair : pairs) {
            nearest = std::min(nearest, std::abs(pair.value - value));
        }
        EXPECT_LT(nearest, 1e-3) << value;
    }
    EXPECT_EQ(static_cast<int>(pairs.size()), expected);
    EXPECT_GE(expected, 2);
}

}  // namespace
}  // namespace standfast
