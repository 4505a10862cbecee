#pragma once

#include <Eigen/Core>
#include <array>
#include <complex>
#include <vector>

#include "fea/chatter/limits/zero_order.hpp"

namespace standfast {

/// Eigenvalues of A0 G (m^-1), where A0 is the mean directional matrix per depth.
using LoopEigenvalues = std::array<std::complex<double>, 3>;

/// Three eigenvalues of A0 G in any order; two by a quadratic where A0 ignores z. Of more, along an
/// edge, the three largest: what else the edge can do hardly answers.
LoopEigenvalues loop_eigenvalues(const Eigen::MatrixXd& mean_matrix,
                                 const Eigen::MatrixXcd& receptance);

/// Of the three, the one nearest to `guess`.
std::complex<double> nearest(const LoopEigenvalues& values, std::complex<double> guess);

/// A stretch of one eigenvalue's path over frequency, short enough for its phase to turn little.
struct LobeSegment {
    double from = 0, to = 0;              ///< rad/s
    std::complex<double> at_from, at_to;  ///< lambda, m^-1
    std::size_t interval = 0;             ///< of the sampled receptance
    double least_depth = 0;               ///< m; no limit on this stretch is smaller
};

/// All stretches that can limit the depth at or below `searched_to` (m), least depth first. A
/// depth is limited only where Re lambda > 0.
std::vector<LobeSegment> lobe_segments(const Eigen::MatrixXd& mean_matrix,
                                       const SampledReceptance& receptance, double searched_to);

}  // namespace standfast
