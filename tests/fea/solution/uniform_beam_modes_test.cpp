#include <gtest/gtest.h>

#include "fea/solution/modes.hpp"
#include "fea/structure/assembly.hpp"
#include "tests/support/beams.hpp"
#include "tests/support/published.hpp"

namespace standfast::test {
namespace {

// b 0.04 m, h 0.02 m, L 0.8 m; bending in h.
TestBeam thin_bar() {
    return {.section = without_shear(rectangle(0.02, 0.04, 0.29)),
            .material = isotropic(205e9, 0.29, 7850),
            .length = 0.8,
            .elements = 24,
            .rotary_inertia = false};
}

void expect_frequencies(const std::vector<double>& actual, const std::vector<double>& expected,
                        double relative, const std::string& what) {
    ASSERT_GE(actual.size(), expected.size()) << what;
    for (std::size_t i = 0; i < expected.size(); ++i) {
        EXPECT_TRUE(within(actual[i], expected[i], relative)) << what << ", mode " << i + 1;
    }
}

TEST(UniformBeamModes, ClampedFreeMatchesBlevins) {
    const std::vector<double> table{25.7972, 161.668, 452.676, 887.064, 1466.38};
    const auto found = modes(assemble(cantilever(thin_bar())), 24);
    expect_frequencies(frequencies_along(found, kBendingX), table, 1e-4, "clamped-free");
    expect_frequencies(frequencies_along(found, kBendingY), {2 * 25.7972, 2 * 161.668}, 1e-4,
                       "other plane");
}

TEST(UniformBeamModes, FreeFreeMatchesBlevins) {
    const std::vector<double> table{164.154, 452.497, 887.075, 1466.38, 2190.52};
    const auto found = modes(assemble(free_beam(thin_bar())), 30);
    for (std::size_t i = 0; i < 6; ++i) EXPECT_EQ(found[i].frequency.hertz(), 0) << "rigid " << i;
    const std::vector<Mode> elastic(found.begin() + 6, found.end());
    expect_frequencies(frequencies_along(elastic, kBendingX), table, 2e-4, "free-free");
}

}  // namespace
}  // namespace standfast::test
