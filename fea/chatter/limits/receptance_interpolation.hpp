#pragma once

#include <Eigen/Core>
#include <array>
#include <complex>
#include <cstddef>

#include "fea/chatter/limits/zero_order.hpp"

namespace standfast {

/// Receptance between two samples: a rational function of frequency in barycentric form through
/// the four samples about the interval, all entries over one denominator, as modes share
/// their poles; the denominator is fitted to four samples further out. Exact for up to three poles
/// near by; with a quarter of the half-power width a step, within 1e-4 at a peak (measured in the
/// tests).
/// Source: Y. Nakatsukasa, O. Sete and L. N. Trefethen, SIAM J. Sci. Comput. 40 (2018) A1494-A1522,
///         for the fit of barycentric weights (from memory).
struct ReceptanceInterpolation {
    std::array<double, 4> frequency{};  ///< rad/s, of the supporting samples
    std::array<std::complex<double>, 4> weight{};
    std::array<Eigen::MatrixXcd, 4> value;
    std::size_t count = 4;
};

/// For the interval between samples `interval` and `interval + 1`. With fewer than eight samples
/// in all, the straight line between the two.
ReceptanceInterpolation interpolation(const SampledReceptance& receptance, std::size_t interval);

/// G at w, rad/s, as large as the samples, m/N.
Eigen::MatrixXcd value_at(const ReceptanceInterpolation& interpolation, double w);

}  // namespace standfast
