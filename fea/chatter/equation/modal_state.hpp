#pragma once

#include <Eigen/Core>
#include <cmath>
#include <complex>

#include "fea/solution/modal_receptance.hpp"

namespace standfast {

/// The modes as first-order equations, c' = lambda c + shape^T P, one complex number a mode:
///
///     real shapes u:  c = (q' - conj(lambda) q)/sqrt(w_d),  lambda = -zeta w + i w_d,
///                     w_d = w sqrt(1 - zeta^2),  shape = u/sqrt(w_d)
///     displacement coordinates = sum of Im(shape c) + residual P
///
/// so that all c are of one size. Shapes are complex where loss factors turn their phase
/// (first_order). As real vectors: Re c_0, Im c_0, Re c_1, ...
struct ModalState {
    Eigen::VectorXcd lambda;  ///< 1/s
    Eigen::MatrixXcd shape;   ///< coordinates x modes
    EdgeMatrix residual;      ///< m/N
    int modes() const { return static_cast<int>(lambda.size()); }
    Eigen::Index coordinates() const { return residual.rows(); }
    double fastest() const;          ///< rad/s, the highest w
    double strongest_decay() const;  ///< 1/s, the largest zeta w
};

/// @throws std::domain_error unless every frequency is positive and every damping ratio in
///         [0, 0.99]
ModalState modal_state(const ModalReceptance& receptance);

/// exp of a finite complex number, without the checks that make std::exp of it slow.
inline std::complex<double> exponential(std::complex<double> z) {
    const double size = std::exp(z.real());
    return {size * std::cos(z.imag()), size * std::sin(z.imag())};
}

/// exp(lambda time) of each mode.
Eigen::VectorXcd turns(const ModalState& modes, double time);

/// state <- exp(lambda time) state, column by column (2 modes x any), given the turns.
template <class Columns>
void turn_modes(const Eigen::VectorXcd& turns, Columns&& state) {
    for (Eigen::Index column = 0; column < state.cols(); ++column) {
        for (Eigen::Index m = 0; m < turns.size(); ++m) {
            const double real = state(2 * m, column);
            const double imaginary = state(2 * m + 1, column);
            state(2 * m, column) = turns[m].real() * real - turns[m].imag() * imaginary;
            state(2 * m + 1, column) = turns[m].imag() * real + turns[m].real() * imaginary;
        }
    }
}

}  // namespace standfast
