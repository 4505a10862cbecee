#pragma once

#include <algorithm>
#include <cmath>
#include <complex>
#include <numbers>
#include <vector>

#include "fea/cutting/angle_polynomial.hpp"
#include "fea/cutting/edge_slices.hpp"
#include "fea/cutting/engagement.hpp"

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
/// The edge of a tooth whose tip is at phi is at phi - lag z at height z.
template <class Value>
struct EdgeSum {
    double lag = 0;  ///< rad/m
    /// A straight edge counts at the end of [from, to] where it makes the finished wall and not at
    /// the other, so that the force there is the one just inside.
    bool wall_at_exit = true;
    std::vector<EdgeTerm<Value>> terms;
};

namespace detail {

/// Largest distance, rad, at which an angle still counts as the end of an engagement.
inline constexpr double same_angle = 1e-9;

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

template <class Value>
Value helical_edge(const EdgeTerm<Value>& term, double angle, double lag) {
    const double turn = 2 * std::numbers::pi;
    const double a = angle - lag * term.slice.from, b = angle - lag * term.slice.to;
    const double low = std::min(a, b), high = std::max(a, b);
    Value sum = Value::Zero();
    double shift = turn * std::ceil((low - term.to) / turn);
    for (; term.from + shift < high; shift += turn) {
        const double from = std::max(low, term.from + shift);
        const double to = std::min(high, term.to + shift);
        if (to > from) sum += mean_over(term.per_height, from - shift, to - shift) * (to - from);
    }
    return sum / std::abs(lag);
}

}  // namespace detail

/// Whether a slice lags so little that taking it as straight costs less than rounding would.
template <class Value>
bool is_straight(const EdgeSum<Value>& sum, const EdgeTerm<Value>& term) {
    return std::abs(sum.lag) * (term.slice.to - term.slice.from) < detail::same_angle;
}

/// The sum with tooth 0's tip at phi, rad.
template <class Value>
Value value_at(const EdgeSum<Value>& sum, double phi) {
    Value total = Value::Zero();
    for (const EdgeTerm<Value>& term : sum.terms) {
        const double angle = phi - term.tooth_angle;
        total += is_straight(sum, term)
                     ? detail::straight_edge(
                           term, angle - sum.lag * (term.slice.from + term.slice.to) / 2,
                           sum.wall_at_exit)
                     : detail::helical_edge(term, angle, sum.lag);
    }
    return total;
}

/// Fourier coefficient over a revolution: (1/2 pi) integral of the sum times exp(-i k phi).
template <class Value>
ComplexOf<Value> harmonic(const EdgeSum<Value>& sum, int k) {
    ComplexOf<Value> total = ComplexOf<Value>::Zero();
    for (const EdgeTerm<Value>& term : sum.terms) {
        const double height = term.slice.to - term.slice.from;
        const double middle = (term.slice.to + term.slice.from) / 2;
        const std::complex<double> along_edge =
            height * sinc(k * sum.lag * height / 2) *
            std::polar(1.0, -k * (sum.lag * middle + term.tooth_angle));
        total += fourier_integral(term.per_height, k, term.from, term.to) * along_edge;
    }
    return total / (2 * std::numbers::pi);
}

}  // namespace standfast
