#pragma once

#include <algorithm>
#include <cmath>
#include <complex>
#include <numbers>
#include <vector>

#include "fea/cutting/angle_polynomial.hpp"
#include "fea/cutting/edge_slices.hpp"
#include "fea/cutting/engagement.hpp"
#include "fea/quantities/gauss_legendre.hpp"
#include "fea/solution/edge_basis.hpp"

namespace standfast {

/// One slice of one tooth over the angles [from, to] in which it cuts.
template <class Value>
struct EdgeTerm {
    double tooth_angle = 0;   ///< rad behind tooth 0
    double from = 0, to = 0;  ///< rad
    EdgeSlice slice;
    AnglePolynomial<Value> per_height;
};

/// A quantity summed over the engaged edges (force, or its derivative), prepared for many angles.
/// The edge of a tooth whose tip is at phi is at phi - lag z at height z. Value: Vector3d for a
/// force, Matrix3d for its derivative by the displacement.
///
/// What a sum gives is in the coordinates of its basis (edge_basis.hpp): a force P, or the matrix
/// of its derivatives, A_ab = integral of L_a (force per height and displacement) L_b dz. With a
/// point as basis, 3 and 3 x 3 in closed form; otherwise by Gauss-Legendre points along what is
/// engaged (1e-6, measured in tests). Slopes are pushed against, never felt: their columns are 0.
template <class Value>
struct EdgeSum {
    double lag = 0;  ///< rad/m
    /// A straight edge counts at the end of [from, to] where it makes the finished wall and not at
    /// the other, so that the force there is the one just inside.
    bool wall_at_exit = true;
    std::vector<EdgeTerm<Value>> terms;
    EdgeBasis basis = {};
};

template <class Value>
struct StackedOf;
template <>
struct StackedOf<Eigen::Vector3d> {
    using Real = EdgeVector;
    using Complex = ComplexEdgeVector;
    static Real zero(const EdgeBasis& basis) { return EdgeVector::Zero(basis.size()); }
};
template <>
struct StackedOf<Eigen::Matrix3d> {
    using Real = EdgeMatrix;
    using Complex = ComplexEdgeMatrix;
    static Real zero(const EdgeBasis& basis) {
        return EdgeMatrix::Zero(basis.size(), basis.size());
    }
};
template <class Value>
using Stacked = typename StackedOf<Value>::Real;
template <class Value>
using ComplexStacked = typename StackedOf<Value>::Complex;

namespace detail {

/// Largest distance, rad, at which an angle still counts as the end of an engagement.
inline constexpr double same_angle = 1e-9;

/// Slices shorter than this share of the basis's reach stand at their middle.
inline constexpr double short_slice = 0.04;

/// What one height adds, with the products of its polynomials; `sine`, `cosine` are those of its
/// angle, of complex value for harmonics.
template <class Total, class Force, class Scalar>
void add_force(Total& total, const EdgeBasis& basis, const EdgeWeights& weights, const Force& force,
               Scalar sine, Scalar cosine) {
    const int heights = basis.heights();
    for (int a = 0; a < heights; ++a) {
        total.template segment<3>(3 * a) += weights[static_cast<std::size_t>(a)] * force;
    }
    if (!(basis.lever > 0)) return;
    total[3 * heights] -= basis.lever * sine * force[2];
    total[3 * heights + 1] -= basis.lever * cosine * force[2];
}

inline void add_height(EdgeVector& total, const EdgeBasis& basis, double z, double angle,
                       const Eigen::Vector3d& force) {
    add_force(total, basis, weights_at(basis, z), force, std::sin(angle), std::cos(angle));
}

inline void add_height(EdgeMatrix& total, const EdgeBasis& basis, double z, double angle,
                       const Eigen::Matrix3d& matrix) {
    const EdgeWeights weights = weights_at(basis, z);
    const double sine = basis.lever > 0 ? std::sin(angle) : 0;
    const double cosine = basis.lever > 0 ? std::cos(angle) : 0;
    for (int b = 0; b < basis.heights(); ++b) {
        for (int j = 0; j < 3; ++j) {
            auto column = total.col(3 * b + j);
            const Eigen::Vector3d force = weights[static_cast<std::size_t>(b)] * matrix.col(j);
            add_force(column, basis, weights, force, sine, cosine);
        }
    }
}

template <class Value>
Value straight_edge(const EdgeTerm<Value>& term, double angle, bool wall_at_exit) {
    const double turn = 2 * std::numbers::pi;
    const double open = wall_at_exit ? term.from + same_angle : term.from - same_angle;
    const double wrapped = angle - turn * std::floor((angle - open) / turn);
    const double last = wall_at_exit ? term.to + same_angle : term.to - same_angle;
    if (wrapped > last) return Value::Zero();
    return value_at(term.per_height, std::clamp(wrapped, term.from, term.to)) *
           (term.slice.to - term.slice.from);
}

/// Calls use(low, high) for every stretch of angles of the slice that cuts, angles of the edge
/// within [term.from, term.to]; `shift` is what was taken off them.
template <class Value, class Use>
void for_each_stretch(const EdgeTerm<Value>& term, double angle, double lag, const Use& use) {
    const double turn = 2 * std::numbers::pi;
    const double a = angle - lag * term.slice.from, b = angle - lag * term.slice.to;
    const double low = std::min(a, b), high = std::max(a, b);
    double shift = turn * std::ceil((low - term.to) / turn);
    for (; term.from + shift < high; shift += turn) {
        const double from = std::max(low, term.from + shift);
        const double to = std::min(high, term.to + shift);
        if (to > from) use(from - shift, to - shift, shift);
    }
}

template <class Value>
Value helical_edge(const EdgeTerm<Value>& term, double angle, double lag) {
    Value sum = Value::Zero();
    for_each_stretch(term, angle, lag, [&](double from, double to, double) {
        sum += mean_over(term.per_height, from, to) * (to - from);
    });
    return sum / std::abs(lag);
}

/// Points along a stretch: as many as the polynomials and the turn of the edge ask for.
inline int points_for(const EdgeBasis& basis, double turn) {
    return std::min(kMostLegendrePoints,
                    basis.heights() + 1 + static_cast<int>(std::ceil(1.2 * std::abs(turn))));
}

template <class Value>
void add_straight(Stacked<Value>& total, const EdgeSum<Value>& sum, const EdgeTerm<Value>& term,
                  double angle) {
    const Value value = straight_edge(term, angle, sum.wall_at_exit);
    if (value.isZero(0)) return;
    const double height = term.slice.to - term.slice.from;
    const GaussLegendre& rule = gauss_legendre(sum.basis.heights() + 1);
    for (std::size_t g = 0; g < rule.node.size(); ++g) {
        add_height(total, sum.basis, term.slice.from + rule.node[g] * height, angle,
                   Value(rule.weight[g] * value));
    }
}

template <class Value>
void add_helical(Stacked<Value>& total, const EdgeSum<Value>& sum, const EdgeTerm<Value>& term,
                 double angle) {
    for_each_stretch(term, angle, sum.lag, [&](double from, double to, double shift) {
        const GaussLegendre& rule = gauss_legendre(points_for(sum.basis, to - from));
        for (std::size_t g = 0; g < rule.node.size(); ++g) {
            const double at = from + rule.node[g] * (to - from);
            const double z = (angle - shift - at) / sum.lag;
            const double weight = rule.weight[g] * (to - from) / std::abs(sum.lag);
            add_height(total, sum.basis, z, at, Value(weight * value_at(term.per_height, at)));
        }
    });
}

}  // namespace detail

/// Whether a slice lags so little that taking it as straight costs less than rounding would.
template <class Value>
bool is_straight(const EdgeSum<Value>& sum, const EdgeTerm<Value>& term) {
    return std::abs(sum.lag) * (term.slice.to - term.slice.from) < detail::same_angle;
}

/// The sum with tooth 0's tip at phi, rad.
template <class Value>
Stacked<Value> value_at(const EdgeSum<Value>& sum, double phi) {
    Stacked<Value> total = StackedOf<Value>::zero(sum.basis);
    const double reach = sum.basis.is_point() ? 0 : sum.basis.height.back();
    for (const EdgeTerm<Value>& term : sum.terms) {
        const double angle = phi - term.tooth_angle;
        const double middle = (term.slice.from + term.slice.to) / 2;
        const bool straight = is_straight(sum, term);
        const bool at_once = term.slice.to - term.slice.from < detail::short_slice * reach;
        if (sum.basis.is_point() || at_once) {
            const Value value =
                straight ? detail::straight_edge(term, angle - sum.lag * middle, sum.wall_at_exit)
                         : detail::helical_edge(term, angle, sum.lag);
            if (sum.basis.is_point()) {
                total += value;
            } else if (!value.isZero(0)) {
                detail::add_height(total, sum.basis, middle, angle - sum.lag * middle, value);
            }
        } else if (straight) {
            detail::add_straight(total, sum, term, angle - sum.lag * middle);
        } else {
            detail::add_helical(total, sum, term, angle);
        }
    }
    return total;
}

namespace detail {

template <class Value>
ComplexOf<Value> turned(const EdgeTerm<Value>& term, int k) {
    return fourier_integral(term.per_height, k, term.from, term.to);
}

inline void add_harmonic(ComplexEdgeVector& total, const EdgeBasis& basis,
                         const EdgeWeights& weights, std::complex<double> factor,
                         const std::array<ComplexOf<Eigen::Vector3d>, 3>& value) {
    const Eigen::Vector3cd force = factor * value[0];
    for (int a = 0; a < basis.heights(); ++a) {
        total.segment<3>(3 * a) += weights[static_cast<std::size_t>(a)] * force;
    }
    if (!(basis.lever > 0)) return;
    total[3 * basis.heights()] -= basis.lever * factor * value[1][2];
    total[3 * basis.heights() + 1] -= basis.lever * factor * value[2][2];
}

inline void add_harmonic(ComplexEdgeMatrix& total, const EdgeBasis& basis,
                         const EdgeWeights& weights, std::complex<double> factor,
                         const std::array<ComplexOf<Eigen::Matrix3d>, 3>& value) {
    for (int b = 0; b < basis.heights(); ++b) {
        const std::complex<double> column = factor * weights[static_cast<std::size_t>(b)];
        for (int a = 0; a < basis.heights(); ++a) {
            total.block<3, 3>(3 * a, 3 * b) +=
                (column * weights[static_cast<std::size_t>(a)]) * value[0];
        }
        if (!(basis.lever > 0)) continue;
        total.block<1, 3>(3 * basis.heights(), 3 * b) -= (basis.lever * column) * value[1].row(2);
        total.block<1, 3>(3 * basis.heights() + 1, 3 * b) -=
            (basis.lever * column) * value[2].row(2);
    }
}

/// Fourier integrals of a slice's polynomial, and of it times the sine and cosine of the angle,
/// which the lever asks for.
template <class Value>
std::array<ComplexOf<Value>, 3> fourier_with_lever(const EdgeTerm<Value>& term, int k, bool lever) {
    const ComplexOf<Value> plain = turned(term, k);
    if (!lever) return {plain, plain, plain};
    const ComplexOf<Value> below = turned(term, k - 1), above = turned(term, k + 1);
    const std::complex<double> two_i(0, 2);
    return {plain, (below - above) / two_i, (below + above) / 2.0};
}

}  // namespace detail

/// Fourier coefficient over a revolution: (1/2 pi) integral of the sum times exp(-i k phi).
template <class Value>
ComplexStacked<Value> harmonic(const EdgeSum<Value>& sum, int k) {
    ComplexStacked<Value> total =
        StackedOf<Value>::zero(sum.basis).template cast<std::complex<double>>();
    for (const EdgeTerm<Value>& term : sum.terms) {
        const double height = term.slice.to - term.slice.from;
        const double middle = (term.slice.to + term.slice.from) / 2;
        if (sum.basis.is_point()) {
            const std::complex<double> along_edge =
                height * sinc(k * sum.lag * height / 2) *
                std::polar(1.0, -k * (sum.lag * middle + term.tooth_angle));
            total += detail::turned(term, k) * along_edge;
            continue;
        }
        const auto value = detail::fourier_with_lever(term, k, sum.basis.lever > 0);
        const bool at_once = height < detail::short_slice * sum.basis.height.back();
        const double panel_turn = 6;  // rad, of the exponential in one panel of points
        const double turn = at_once ? 0 : std::abs(k * sum.lag * height);
        const int panels = 1 + static_cast<int>(turn / panel_turn);
        const GaussLegendre& rule =
            gauss_legendre(at_once ? 1 : detail::points_for(sum.basis, turn / panels));
        for (int panel = 0; panel < panels; ++panel) {
            for (std::size_t g = 0; g < rule.node.size(); ++g) {
                const double z = term.slice.from + (panel + rule.node[g]) * height / panels;
                const std::complex<double> factor =
                    height / panels * rule.weight[g] *
                    std::polar(1.0, -k * (sum.lag * z + term.tooth_angle));
                detail::add_harmonic(total, sum.basis, weights_at(sum.basis, z), factor, value);
            }
        }
    }
    return total / (2 * std::numbers::pi);
}

}  // namespace standfast
