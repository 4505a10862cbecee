#pragma once

#include <cmath>
#include <complex>
#include <type_traits>
#include <utility>

namespace standfast {

/// p(a) = constant + cos1 cos a + sin1 sin a + cos2 cos 2a + sin2 sin 2a of a tooth's angle a
/// (rad). With a force law linear in the chip, both the force per edge height and its derivative
/// by the vibration have this form, which integrates in closed form along a helix and against
/// exp(-i k a). Value: an Eigen vector or matrix of fixed size.
template <class Value>
struct AnglePolynomial {
    Value constant = Value::Zero();
    Value cos1 = Value::Zero(), sin1 = Value::Zero();
    Value cos2 = Value::Zero(), sin2 = Value::Zero();
};

/// sin(x)/x.
inline double sinc(double x) { return std::abs(x) < 1e-4 ? 1 - x * x / 6 : std::sin(x) / x; }

/// p(angle).
template <class Value>
Value value_at(const AnglePolynomial<Value>& p, double angle) {
    const double c = std::cos(angle), s = std::sin(angle);
    return p.constant + p.cos1 * c + p.sin1 * s + p.cos2 * (c * c - s * s) + p.sin2 * (2 * s * c);
}

/// Mean of p over [from, to]; p(from) where the interval closes, without loss of digits.
template <class Value>
Value mean_over(const AnglePolynomial<Value>& p, double from, double to) {
    const double middle = (from + to) / 2, half = (to - from) / 2;
    const double c = std::cos(middle), s = std::sin(middle);
    const double first = sinc(half), second = first * std::cos(half);  // sinc(2 half)
    return p.constant + (p.cos1 * c + p.sin1 * s) * first +
           (p.cos2 * (c * c - s * s) + p.sin2 * (2 * s * c)) * second;
}

template <class Value>
using ComplexOf = std::remove_cvref_t<
    decltype(std::declval<Value>().template cast<std::complex<double>>().eval())>;

/// Integral of p(a) exp(-i k a) over [from, to], k whole.
template <class Value>
ComplexOf<Value> fourier_integral(const AnglePolynomial<Value>& p, int k, double from, double to) {
    const double middle = (from + to) / 2, half = (to - from) / 2;
    const auto exponential = [&](int q) {
        return (to - from) * sinc(q * half) * std::polar(1.0, q * middle);
    };
    const std::complex<double> i(0, 1);
    const std::complex<double> up1 = exponential(1 - k), down1 = exponential(-1 - k);
    const std::complex<double> up2 = exponential(2 - k), down2 = exponential(-2 - k);
    ComplexOf<Value> sum = p.constant.template cast<std::complex<double>>() * exponential(-k);
    sum += p.cos1.template cast<std::complex<double>>() * ((up1 + down1) / 2.0);
    sum += p.sin1.template cast<std::complex<double>>() * ((up1 - down1) / (2.0 * i));
    sum += p.cos2.template cast<std::complex<double>>() * ((up2 + down2) / 2.0);
    sum += p.sin2.template cast<std::complex<double>>() * ((up2 - down2) / (2.0 * i));
    return sum;
}

}  // namespace standfast
