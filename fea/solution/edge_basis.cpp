#include "fea/solution/edge_basis.hpp"

#include "fea/quantities/gauss_legendre.hpp"

namespace standfast {

EdgeWeights weights_at(const EdgeBasis& basis, double z) {
    EdgeWeights weights{};
    const std::size_t count = basis.height.size();
    for (std::size_t a = 0; a < count; ++a) {
        double weight = 1;
        for (std::size_t b = 0; b < count; ++b) {
            if (b == a) continue;
            weight *= (z - basis.height[b]) / (basis.height[a] - basis.height[b]);
        }
        weights[a] = weight;
    }
    return weights;
}

std::vector<double> gauss_heights(int count, double depth) {
    std::vector<double> heights = gauss_legendre(count).node;
    for (double& height : heights) height *= depth;
    return heights;
}

Eigen::Vector3d displacement_at(const EdgeBasis& basis, const EdgeVector& coordinates, double z) {
    const EdgeWeights weights = weights_at(basis, z);
    Eigen::Vector3d sum = Eigen::Vector3d::Zero();
    for (int a = 0; a < basis.heights(); ++a) {
        sum += weights[static_cast<std::size_t>(a)] * coordinates.segment<3>(3 * a);
    }
    return sum;
}

}  // namespace standfast
