#include "fea/chatter/limits/nose_limit.hpp"

#include <Eigen/LU>
#include <algorithm>
#include <cmath>

#include "fea/chatter/limits/receptance_interpolation.hpp"

namespace standfast {
namespace {

using Complex = std::complex<double>;

/// depth lambda(depth, w) delay_factor(w) - 1, which is 0 on the edge of stability.
class EdgeResidual {
public:
    EdgeResidual(const DelaySystem& system, const SampledReceptance& receptance, SpindleSpeed speed)
        : system_(system), receptance_(receptance) {
        for (int tooth = 0; tooth < system.cutter.teeth(); ++tooth) {
            delays_.push_back(tooth_delay(system.cutter, tooth, speed));
        }
    }

    Complex at(const LobeCrossing& point) const {
        const Complex factor = point.depth * delay_factor(delays_, point.w);
        return nearest(eigenvalues_at(point), 1.0 / factor) * factor - 1.0;
    }

private:
    LoopEigenvalues eigenvalues_at(const LobeCrossing& point) const {
        if (!system_.lines) {
            return loop_eigenvalues(mean_directional_matrix(system_, point.depth),
                                    receptance_near(point.w));
        }
        const ModalReceptance edge = receptance_of_cut(system_, point.depth);
        EdgeSum<Eigen::Matrix3d> sum = directional_sum(system_, point.depth);
        sum.basis = edge.basis;
        return loop_eigenvalues(harmonic(sum, 0).real() / point.depth,
                                receptance_at(edge, AngularFrequency{point.w}));
    }
    Eigen::MatrixXcd receptance_near(double w) const {
        const auto& frequency = receptance_.frequency;
        const auto above =
            std::upper_bound(frequency.begin(), frequency.end(), AngularFrequency{w});
        const auto index = std::clamp<std::ptrdiff_t>(
            above - frequency.begin() - 1, 0, static_cast<std::ptrdiff_t>(frequency.size()) - 2);
        return value_at(interpolation(receptance_, static_cast<std::size_t>(index)), w);
    }

    const DelaySystem& system_;
    const SampledReceptance& receptance_;
    std::vector<double> delays_;
};

/// Newton's steps on frequency and logarithm of depth; none where they do not settle.
std::optional<LobeCrossing> settled(const EdgeResidual& residual, LobeCrossing point) {
    const double step = 1e-6;
    for (int iteration = 0; iteration < 25; ++iteration) {
        const Complex value = residual.at(point);
        if (std::abs(value) < 1e-9) return point;
        const Complex by_w = (residual.at({point.w * (1 + step), point.depth}) - value) / step;
        const Complex by_depth = (residual.at({point.w, point.depth * (1 + step)}) - value) / step;
        const Eigen::Matrix2d jacobian{{by_w.real(), by_depth.real()},
                                       {by_w.imag(), by_depth.imag()}};
        const Eigen::Vector2d change =
            -jacobian.partialPivLu().solve(Eigen::Vector2d(value.real(), value.imag()));
        if (!change.allFinite()) return std::nullopt;
        point.w *= 1 + std::clamp(change.x(), -0.02, 0.02);
        point.depth *= 1 + std::clamp(change.y(), -0.2, 0.2);
    }
    return std::nullopt;
}

}  // namespace

LobeCrossing nose_limit(const DelaySystem& system, const SampledReceptance& receptance,
                        SpindleSpeed speed, const NoseBracket& bracket) {
    const EdgeResidual residual(system, receptance, speed);
    std::optional<LobeCrossing> best;
    const auto consider = [&](LobeCrossing start) {
        start.depth = std::clamp(start.depth, bracket.shallow, bracket.deep);
        const std::optional<LobeCrossing> point = settled(residual, start);
        const double slack = 1e-6;
        const bool inside = point && point->depth > bracket.shallow * (1 - slack) &&
                            point->depth < bracket.deep * (1 + slack);
        if (inside && (!best || point->depth < best->depth)) best = point;
    };
    consider({bracket.at_deep.w, std::sqrt(bracket.deep * bracket.at_deep.depth)});
    if (bracket.at_shallow) consider({bracket.at_shallow->w, bracket.at_shallow->depth});
    if (best) return *best;
    return {bracket.at_deep.w, std::clamp(bracket.at_deep.depth, bracket.shallow, bracket.deep)};
}

}  // namespace standfast
