#include "fea/chatter/limits/receptance_interpolation.hpp"

#include <Eigen/LU>
#include <algorithm>
#include <cmath>

namespace standfast {
namespace {

using Complex = std::complex<double>;
constexpr std::size_t window_size = 8;  // four samples carry the function, four fit its poles

ReceptanceInterpolation straight_line(const SampledReceptance& receptance, std::size_t interval) {
    ReceptanceInterpolation line;
    line.count = 2;
    for (std::size_t i = 0; i < 2; ++i) {
        line.frequency[i] = receptance.frequency[interval + i].radians_per_second;
        line.value[i] = receptance.value[interval + i];
        line.weight[i] = i == 0 ? 1.0 : -1.0;
    }
    return line;
}

/// Weights of the cubic through the four supports: the fit starts from them and falls back on
/// them in directions that the samples leave open.
Eigen::Vector4cd polynomial_weights(const std::array<double, 4>& frequency) {
    Eigen::Vector4cd weights;
    const double scale = frequency[3] - frequency[0];
    for (std::size_t i = 0; i < 4; ++i) {
        double product = 1;
        for (std::size_t j = 0; j < 4; ++j) {
            if (j != i) product *= (frequency[i] - frequency[j]) / scale;
        }
        weights[static_cast<Eigen::Index>(i)] = 1 / product;
    }
    return weights;
}

/// L^H L of the Loewner matrix L: rows are (entry, outer sample), columns the supports; the
/// rational function meets the outer samples where L w = 0.
Eigen::Matrix4cd normal_matrix(const ReceptanceInterpolation& supports,
                               const SampledReceptance& receptance, std::size_t first,
                               std::size_t first_support) {
    Eigen::Matrix4cd normal = Eigen::Matrix4cd::Zero();
    for (std::size_t outer = first; outer < first + window_size; ++outer) {
        if (outer >= first_support && outer < first_support + 4) continue;
        const double w = receptance.frequency[outer].radians_per_second;
        Eigen::Matrix<Complex, Eigen::Dynamic, 4> rows(supports.value[0].size(), 4);
        for (std::size_t j = 0; j < 4; ++j) {
            const Eigen::MatrixXcd quotient =
                (receptance.value[outer] - supports.value[j]) / (w - supports.frequency[j]);
            rows.col(static_cast<Eigen::Index>(j)) =
                Eigen::Map<const Eigen::VectorXcd>(quotient.data(), quotient.size());
        }
        normal += rows.adjoint() * rows;
    }
    return normal;
}

}  // namespace

ReceptanceInterpolation interpolation(const SampledReceptance& receptance, std::size_t interval) {
    const std::size_t samples = receptance.frequency.size();
    if (samples < window_size) return straight_line(receptance, interval);
    const std::size_t first =
        std::min(interval > 3 ? interval - 3 : std::size_t{0}, samples - window_size);
    const std::size_t first_support =
        std::clamp(interval > 1 ? interval - 1 : std::size_t{0}, first, first + window_size - 4);

    ReceptanceInterpolation local;
    for (std::size_t i = 0; i < 4; ++i) {
        local.frequency[i] = receptance.frequency[first_support + i].radians_per_second;
        local.value[i] = receptance.value[first_support + i];
    }
    Eigen::Matrix4cd normal = normal_matrix(local, receptance, first, first_support);
    const double size = normal.trace().real();
    if (!(size > 0)) return straight_line(receptance, interval);
    normal.diagonal().array() += 1e-14 * size;
    const Eigen::Vector4cd fitted =
        normal.partialPivLu().solve(polynomial_weights(local.frequency)).normalized();
    for (std::size_t i = 0; i < 4; ++i) local.weight[i] = fitted[static_cast<Eigen::Index>(i)];

    // Without a weight of its own, a sample at the interval's end would not be met.
    const double least = 1e-9;
    for (std::size_t end = interval; end <= interval + 1; ++end) {
        if (std::abs(local.weight[end - first_support]) < least) {
            return straight_line(receptance, interval);
        }
    }
    return local;
}

Eigen::MatrixXcd value_at(const ReceptanceInterpolation& interpolation, double w) {
    Eigen::MatrixXcd numerator =
        Eigen::MatrixXcd::Zero(interpolation.value[0].rows(), interpolation.value[0].cols());
    Complex denominator = 0;
    for (std::size_t i = 0; i < interpolation.count; ++i) {
        const double distance = w - interpolation.frequency[i];
        if (distance == 0) return interpolation.value[i];
        const Complex share = interpolation.weight[i] / distance;
        numerator += share * interpolation.value[i];
        denominator += share;
    }
    return numerator / denominator;
}

}  // namespace standfast
