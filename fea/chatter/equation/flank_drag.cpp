#include "fea/chatter/equation/flank_drag.hpp"

#include <algorithm>
#include <cmath>
#include <complex>
#include <numbers>
#include <vector>

#include "fea/quantities/require.hpp"

namespace standfast {
namespace {

using Complex = std::complex<double>;
using Eigen::Index;
using Eigen::MatrixXcd;

constexpr double kAlike = 0.285;   // ln of the ratio of frequencies up to which modes are mixed
constexpr double kCoupled = 1e-3;  // of the difference of two decay rates: too little to mix
constexpr double kMostDecay =
    0.6;  // of the frequency; more is beyond first order and stable anyway
constexpr int kSweeps = 3;
constexpr double kBeyond = 2;  // so many times faster is static

// How much of the drag between two modes counts: it fades in a straight line with the ratio of
// their frequencies. A product with this keeps the drag from ever feeding motion (a triangle is a
// positive-definite function, I. Schur's product theorem), which a bound on the ratio alone does
// not: many modes a little apart then make some of themselves grow.
double likeness(Complex a, Complex b) {
    return std::max(0.0, 1 - std::abs(std::log(std::abs(a) / std::abs(b))) / kAlike);
}

// Rates a' = M a of the modes' slowly turning amplitudes: M = diag(lambda) - drag.
MatrixXcd decay_rates(const ModalState& modes, const EdgeMatrix& mean, double cutting_speed,
                      const WaveFade& fade) {
    const Index count = modes.modes();
    Eigen::VectorXd strength(count);
    for (Index m = 0; m < count; ++m) {
        const double w = std::abs(modes.lambda[m]);
        const double wave = 2 * std::numbers::pi * cutting_speed / w;
        strength[m] = std::sqrt(w * fade.share(wave) / (2 * cutting_speed));
    }
    const MatrixXcd felt = modes.shape * strength.asDiagonal();
    MatrixXcd rates = -(felt.transpose() * mean * felt);
    for (Index m = 0; m < count; ++m) {
        for (Index k = 0; k < count; ++k) {
            rates(m, k) *= likeness(modes.lambda[m], modes.lambda[k]);
        }
    }
    for (Index m = 0; m < count; ++m) {
        const double most = kMostDecay * std::abs(modes.lambda[m]);
        const double drag = std::abs(rates(m, m));
        if (drag > most) {
            const double less = std::sqrt(most / drag);
            rates.row(m) *= less;
            rates.col(m) *= less;
        }
    }
    rates.diagonal() += modes.lambda;
    return rates;
}

// Mixes two modes so that neither damps the other.
void rotate(MatrixXcd& rates, MatrixXcd& shape, Index m, Index k) {
    const Complex between = rates(m, k);
    const Complex apart = (rates(k, k) - rates(m, m)) / (2.0 * between);
    const Complex root = std::sqrt(1.0 + apart * apart);
    const Complex tangent =
        1.0 / (std::norm(apart + root) > std::norm(apart - root) ? apart + root : apart - root);
    const Complex square = 1.0 + tangent * tangent;
    if (std::abs(square) < 1e-4) return;  // two modes about to become one
    const Complex cosine = 1.0 / std::sqrt(square), sine = tangent * cosine;
    const auto turn = [&](auto&& first, auto&& second) {
        const auto kept = first.eval();
        first = cosine * kept - sine * second;
        second = sine * kept + cosine * second;
    };
    turn(rates.col(m), rates.col(k));
    turn(rates.row(m), rates.row(k));
    turn(shape.col(m), shape.col(k));
}

}  // namespace

ModalState with_flank_drag(const ModalState& modes, const EdgeMatrix& mean, double cutting_speed,
                           const WaveFade& fade) {
    require_positive(cutting_speed, "with_flank_drag", "cutting speed");
    ModalState dragged = modes;
    MatrixXcd rates = decay_rates(modes, mean, cutting_speed, fade);
    for (int sweep = 0; sweep < kSweeps; ++sweep) {
        for (Index m = 0; m < modes.modes(); ++m) {
            for (Index k = m + 1; k < modes.modes(); ++k) {
                const double between = std::abs(rates(m, k));
                if (between == 0 || between < kCoupled * std::abs(rates(m, m) - rates(k, k))) {
                    continue;
                }
                rotate(rates, dragged.shape, m, k);
            }
        }
    }
    dragged.lambda = rates.diagonal();
    return dragged;
}

ModalState without_quiet_modes(const ModalState& modes, double sings) {
    const Index count = modes.modes();
    const Eigen::VectorXd peak = modes.shape.colwise().squaredNorm().transpose().array() /
                                 (-2 * modes.lambda.real()).array().max(1e-9);
    if (count == 0) return modes;
    const double matters = std::min(sings, peak.maxCoeff());
    double fastest = 0;
    for (Index m = 0; m < count; ++m) {
        if (peak[m] >= matters) fastest = std::max(fastest, std::abs(modes.lambda[m]));
    }
    std::vector<Index> kept;
    ModalState fewer;
    fewer.residual = modes.residual;
    for (Index m = 0; m < count; ++m) {
        if (std::abs(modes.lambda[m]) <= kBeyond * fastest) {
            kept.push_back(m);
        } else {
            const auto shape = modes.shape.col(m);
            fewer.residual -= (shape * shape.transpose() / modes.lambda[m]).imag();
        }
    }
    fewer.lambda = modes.lambda(kept);
    fewer.shape = modes.shape(Eigen::all, kept);
    return fewer;
}

}  // namespace standfast
