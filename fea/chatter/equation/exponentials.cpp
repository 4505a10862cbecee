#include "fea/chatter/equation/exponentials.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <complex>
#include <numbers>

namespace standfast {
namespace {

constexpr Eigen::Index kBlock = 32;
using Block = Eigen::Array<double, kBlock, 1>;

// pi/2 in parts of 33 bits, so that their products with a whole number of 20 bits are exact.
constexpr double kHigh = 0x1.921fb544p+0, kMiddle = 0x1.0b4611a6p-34, kLow = 0x1.3198a2e037073p-69;

constexpr double factorial(int n) { return n <= 1 ? 1 : n * factorial(n - 1); }

// r - r^3/3! + ... and 1 - r^2/2! + ..., |r| <= pi/4.
inline double sine_near_zero(double r, double square) {
    double sum = -1 / factorial(15);
    sum = sum * square + 1 / factorial(13);
    sum = sum * square - 1 / factorial(11);
    sum = sum * square + 1 / factorial(9);
    sum = sum * square - 1 / factorial(7);
    sum = sum * square + 1 / factorial(5);
    sum = sum * square - 1 / factorial(3);
    return r + r * square * sum;
}

inline double cosine_near_zero(double square) {
    double sum = 1 / factorial(16);
    sum = sum * square - 1 / factorial(14);
    sum = sum * square + 1 / factorial(12);
    sum = sum * square - 1 / factorial(10);
    sum = sum * square + 1 / factorial(8);
    sum = sum * square - 1 / factorial(6);
    sum = sum * square + 1 / factorial(4);
    return 1 + square * (square * sum - 0.5);
}

// Plain loops over whole blocks, which the compiler turns into vectors.
void sines_and_cosines(const Block& angle, Block& sine, Block& cosine) {
    for (Eigen::Index i = 0; i < kBlock; ++i) {
        const double quarter = std::floor(angle[i] * (2 / std::numbers::pi) + 0.5);
        const double r = ((angle[i] - quarter * kHigh) - quarter * kMiddle) - quarter * kLow;
        const double square = r * r;
        const double s = sine_near_zero(r, square), c = cosine_near_zero(square);
        const double in_turn = quarter - 4 * std::floor(quarter / 4);
        const double odd = quarter - 2 * std::floor(quarter / 2);
        const double first = odd > 0 ? c : s, second = odd > 0 ? s : c;
        sine[i] = in_turn > 1.5 ? -first : first;
        cosine[i] = (in_turn > 0.5 && in_turn < 2.5) ? -second : second;
    }
}

}  // namespace

Eigen::MatrixXcd exponentials(const Eigen::MatrixXcd& exponent) {
    Eigen::MatrixXcd result(exponent.rows(), exponent.cols());
    Block decay, angle, sine, cosine;
    decay.setZero();
    angle.setZero();
    for (Eigen::Index from = 0; from < exponent.size(); from += kBlock) {
        const Eigen::Index count = std::min(kBlock, exponent.size() - from);
        for (Eigen::Index i = 0; i < count; ++i) {
            decay[i] = exponent.data()[from + i].real();
            angle[i] = exponent.data()[from + i].imag();
        }
        sines_and_cosines(angle, sine, cosine);
        const Block size = decay.exp();
        for (Eigen::Index i = 0; i < count; ++i) {
            result.data()[from + i] = {size[i] * cosine[i], size[i] * sine[i]};
        }
    }
    return result;
}

}  // namespace standfast
