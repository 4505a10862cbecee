#include "fea/solution/modal_receptance.hpp"

#include <cmath>
#include <complex>
#include <stdexcept>

#include "fea/quantities/require.hpp"

namespace standfast {
namespace {

using Complex = std::complex<double>;

EdgeVector turned(const EdgeVector& shape, const Eigen::Matrix3d& axes) {
    EdgeVector result = shape;
    Eigen::Index first = 0;
    for (; first + 3 <= shape.size(); first += 3) {
        result.segment<3>(first) = axes.transpose() * shape.segment<3>(first);
    }
    if (first < shape.size()) {
        result.tail<2>() = axes.topLeftCorner<2, 2>().transpose() * shape.tail<2>();
    }
    return result;
}

EdgeMatrix turned_columns(const EdgeMatrix& matrix, const Eigen::Matrix3d& axes) {
    EdgeMatrix result = matrix;
    for (Eigen::Index column = 0; column < matrix.cols(); ++column) {
        result.col(column) = turned(matrix.col(column), axes);
    }
    return result;
}

// Terms of first order, one pole and its conjugate, where phases turn.
void add_turning(ComplexEdgeMatrix& value, const ModalTerm& term, double w) {
    const FirstOrderMode mode = first_order(term);
    const Complex above = 1.0 / (Complex(0, w) - mode.pole);
    const Complex below = 1.0 / (Complex(0, w) - std::conj(mode.pole));
    const ComplexEdgeMatrix product = mode.shape * mode.shape.transpose();
    value += (product * above - product.conjugate() * below) / Complex(0, 2);
}

}  // namespace

FirstOrderMode first_order(const ModalTerm& term) {
    const double w = term.frequency.radians_per_second;
    require_positive(w, "first_order", "natural frequency");
    require_between(term.damping_ratio, 0.0, 1 - 1e-6, "first_order", "damping ratio");
    const double damped = w * std::sqrt(1 - term.damping_ratio * term.damping_ratio);
    FirstOrderMode mode{{-term.damping_ratio * w, damped}, term.shape.cast<Complex>()};
    if (term.out_of_phase.size() > 0) mode.shape += Complex(0, 1) * term.out_of_phase;
    mode.shape /= std::sqrt(damped);
    return mode;
}

ComplexEdgeMatrix receptance_at(const ModalReceptance& receptance, AngularFrequency frequency) {
    const double w = frequency.radians_per_second;
    require_finite(w, "receptance_at", "frequency");
    ComplexEdgeMatrix value = receptance.residual.cast<Complex>();
    for (const ModalTerm& term : receptance.terms) {
        if (term.out_of_phase.size() > 0) {
            add_turning(value, term, w);
            continue;
        }
        const double wn = term.frequency.radians_per_second;
        const Complex stiffness(wn * wn - w * w, 2 * term.damping_ratio * wn * w);
        const Complex weight = 1.0 / stiffness;
        for (Eigen::Index column = 0; column < value.cols(); ++column) {
            value.col(column) += (term.shape[column] * weight) * term.shape.cast<Complex>();
        }
    }
    return value;
}

EdgeMatrix static_compliance(const ModalReceptance& receptance) {
    EdgeMatrix value = receptance.residual;
    for (const ModalTerm& term : receptance.terms) {
        const double wn = term.frequency.radians_per_second;
        require_positive(wn, "static_compliance", "natural frequency");
        if (term.out_of_phase.size() > 0) {
            const FirstOrderMode mode = first_order(term);
            value += (mode.shape * mode.shape.transpose() / -mode.pole).imag();
        } else {
            value += term.shape * term.shape.transpose() / (wn * wn);
        }
    }
    return value;
}

ModalReceptance in_axes(const ModalReceptance& receptance, const Eigen::Matrix3d& axes) {
    ModalReceptance result = receptance;
    for (ModalTerm& term : result.terms) {
        term.shape = turned(term.shape, axes);
        if (term.out_of_phase.size() > 0) term.out_of_phase = turned(term.out_of_phase, axes);
    }
    const EdgeMatrix half = turned_columns(receptance.residual, axes);
    result.residual = turned_columns(half.transpose(), axes).transpose();
    return result;
}

ModalReceptance sum(const ModalReceptance& a, const ModalReceptance& b) {
    if (!(a.basis == b.basis)) throw std::domain_error("sum of receptances: their bases differ");
    ModalReceptance both = a;
    both.terms.insert(both.terms.end(), b.terms.begin(), b.terms.end());
    both.residual += b.residual;
    return both;
}

}  // namespace standfast
