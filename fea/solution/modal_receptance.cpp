#include "fea/solution/modal_receptance.hpp"

#include <complex>

#include "fea/quantities/require.hpp"

namespace standfast {

Eigen::Matrix3cd receptance_at(const ModalReceptance& receptance, AngularFrequency frequency) {
    const double w = frequency.radians_per_second;
    require_finite(w, "receptance_at", "frequency");
    Eigen::Matrix3cd value = receptance.residual.cast<std::complex<double>>();
    for (const ModalTerm& term : receptance.terms) {
        const double wn = term.frequency.radians_per_second;
        const std::complex<double> stiffness(wn * wn - w * w, 2 * term.damping_ratio * wn * w);
        const std::complex<double> weight = 1.0 / stiffness;
        for (int column = 0; column < 3; ++column) {
            for (int row = 0; row < 3; ++row) {
                value(row, column) += term.shape[row] * term.shape[column] * weight;
            }
        }
    }
    return value;
}

Eigen::Matrix3d static_compliance(const ModalReceptance& receptance) {
    Eigen::Matrix3d value = receptance.residual;
    for (const ModalTerm& term : receptance.terms) {
        const double wn = term.frequency.radians_per_second;
        require_positive(wn, "static_compliance", "natural frequency");
        value += term.shape * term.shape.transpose() / (wn * wn);
    }
    return value;
}

ModalReceptance in_axes(const ModalReceptance& receptance, const Eigen::Matrix3d& axes) {
    ModalReceptance turned = receptance;
    for (ModalTerm& term : turned.terms) term.shape = axes.transpose() * term.shape;
    turned.residual = axes.transpose() * receptance.residual * axes;
    return turned;
}

ModalReceptance sum(const ModalReceptance& a, const ModalReceptance& b) {
    ModalReceptance both = a;
    both.terms.insert(both.terms.end(), b.terms.begin(), b.terms.end());
    both.residual += b.residual;
    return both;
}

}  // namespace standfast
