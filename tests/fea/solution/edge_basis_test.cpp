#include "fea/solution/edge_basis.hpp"

#include <gtest/gtest.h>

namespace standfast {
namespace {

TEST(EdgeBasis, WeightsAtAnyHeightAddUpToOne) {
    for (int count = 1; count <= kMostHeights; ++count) {
        const EdgeBasis basis{.height = gauss_heights(count, 0.02)};
        for (const double z : {0.0, 0.003, 0.011, 0.02}) {
            double sum = 0;
            for (const double weight : weights_at(basis, z)) sum += weight;
            EXPECT_NEAR(sum, 1, 1e-12) << count << " heights, z " << z;
        }
    }
}

TEST(EdgeBasis, APolynomialThroughItsHeightsIsMet) {
    const EdgeBasis basis{.height = gauss_heights(3, 0.02)};
    const auto shape = [](double z) { return Eigen::Vector3d(1 + 50 * z, 3000 * z * z, -2); };
    EdgeVector coordinates(9);
    for (int a = 0; a < 3; ++a) {
        coordinates.segment<3>(3 * a) = shape(basis.height[static_cast<std::size_t>(a)]);
    }
    for (const double z : {0.0, 0.004, 0.02}) {
        EXPECT_TRUE(displacement_at(basis, coordinates, z).isApprox(shape(z), 1e-12)) << z;
    }
}

}  // namespace
}  // namespace standfast
