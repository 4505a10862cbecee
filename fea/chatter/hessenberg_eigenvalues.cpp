#include "fea/chatter/hessenberg_eigenvalues.hpp"

#include <algorithm>
#include <cmath>
#include <complex>
#include <limits>
#include <stdexcept>

namespace standfast {
namespace {

using Eigen::Index;
using Eigen::MatrixXd;

constexpr double kRounding = std::numeric_limits<double>::epsilon();

// The three entries that steer a reflection.
struct Triple {
    double p, q, r;
};

// First row of the lowest block that is joined to row `high`; cuts what is negligible.
Index block_start(MatrixXd& h, Index high, double norm) {
    Index low = high;
    for (; low > 0; --low) {
        double scale = std::abs(h(low - 1, low - 1)) + std::abs(h(low, low));
        if (scale == 0) scale = norm;
        if (std::abs(h(low, low - 1)) <= kRounding * scale) {
            h(low, low - 1) = 0;
            break;
        }
    }
    return low;
}

void pair_of(const MatrixXd& h, Index high, Eigen::VectorXcd& values) {
    const double middle = 0.5 * (h(high - 1, high - 1) + h(high, high));
    const double half = 0.5 * (h(high - 1, high - 1) - h(high, high));
    const double product = h(high, high - 1) * h(high - 1, high);
    const double square = half * half + product;
    if (square < 0) {
        values[high - 1] = {middle, std::sqrt(-square)};
        values[high] = std::conj(values[high - 1]);
        return;
    }
    const double far = half + std::copysign(std::sqrt(square), half);
    values[high - 1] = h(high, high) + far;
    values[high] = far == 0 ? h(high, high) : h(high, high) - product / far;
}

// Sum and product of the two shifts: the trailing 2 x 2 block's, or made up when that stalls.
struct Shifts {
    double sum, product;
};

Shifts shifts_of(const MatrixXd& h, Index high, int sweep) {
    if (sweep % 10 == 9) {
        const double size = std::abs(h(high, high - 1)) + std::abs(h(high - 1, high - 2));
        const double about = h(high, high) + 0.75 * size;
        return {2 * about, about * about + 0.4375 * size * size};
    }
    return {h(high - 1, high - 1) + h(high, high),
            h(high - 1, high - 1) * h(high, high) - h(high, high - 1) * h(high - 1, high)};
}

// First column of (H - s1)(H - s2) in rows at, at + 1, at + 2, over h(at + 1, at).
Triple first_column(const MatrixXd& h, Index at, Shifts s) {
    const double z = h(at, at);
    Triple t{(z * z - s.sum * z + s.product) / h(at + 1, at) + h(at, at + 1),
             z + h(at + 1, at + 1) - s.sum, h(at + 2, at + 1)};
    const double scale = std::abs(t.p) + std::abs(t.q) + std::abs(t.r);
    return {t.p / scale, t.q / scale, t.r / scale};
}

// Lowest row at which the bulge may start: where two small subdiagonals meet.
Index bulge_start(const MatrixXd& h, Index low, Index high, Shifts shifts, Triple& t) {
    for (Index at = high - 2;; --at) {
        t = first_column(h, at, shifts);
        if (at == low) return at;
        const double small = std::abs(h(at, at - 1)) * (std::abs(t.q) + std::abs(t.r));
        const double large = std::abs(t.p) * (std::abs(h(at - 1, at - 1)) + std::abs(h(at, at)) +
                                              std::abs(h(at + 1, at + 1)));
        if (small <= kRounding * large) return at;
    }
}

// Reflects rows and columns k, k + 1 (and k + 2 unless `two`) so that (p, q, r) becomes a multiple
// of the first unit vector; only the block low .. high is kept.
void reflect(MatrixXd& h, Index low, Index high, Index k, Triple t, double signed_norm) {
    const bool two = k == high - 1;
    const double p = t.p + signed_norm;
    const double x = p / signed_norm, y = t.q / signed_norm, z = t.r / signed_norm;
    const double q = t.q / p, r = t.r / p;
    for (Index j = k; j <= high; ++j) {
        const double share = h(k, j) + q * h(k + 1, j) + (two ? 0.0 : r * h(k + 2, j));
        h(k, j) -= share * x;
        h(k + 1, j) -= share * y;
        if (!two) h(k + 2, j) -= share * z;
    }
    for (Index i = low; i <= std::min(high, k + 3); ++i) {
        const double share = x * h(i, k) + y * h(i, k + 1) + (two ? 0.0 : z * h(i, k + 2));
        h(i, k) -= share;
        h(i, k + 1) -= share * q;
        if (!two) h(i, k + 2) -= share * r;
    }
}

void sweep(MatrixXd& h, Index low, Index high, int count) {
    Triple t{};
    const Index start = bulge_start(h, low, high, shifts_of(h, high, count), t);
    for (Index i = start + 2; i <= high; ++i) {
        h(i, i - 2) = 0;
        if (i > start + 2) h(i, i - 3) = 0;
    }
    for (Index k = start; k < high; ++k) {
        double scale = 1;
        if (k > start) {
            t = {h(k, k - 1), h(k + 1, k - 1), k == high - 1 ? 0.0 : h(k + 2, k - 1)};
            scale = std::abs(t.p) + std::abs(t.q) + std::abs(t.r);
            if (scale == 0) continue;
            t = {t.p / scale, t.q / scale, t.r / scale};
        }
        const double norm = std::copysign(std::sqrt(t.p * t.p + t.q * t.q + t.r * t.r), t.p);
        if (norm == 0) continue;
        if (k > start) {
            h(k, k - 1) = -norm * scale;
        } else if (low != start) {
            h(k, k - 1) = -h(k, k - 1);
        }
        reflect(h, low, high, k, t, norm);
    }
}

}  // namespace

Eigen::VectorXcd hessenberg_eigenvalues(const MatrixXd& hessenberg) {
    MatrixXd h = hessenberg;
    Eigen::VectorXcd values(h.rows());
    const double norm = h.cwiseAbs().sum();
    Index high = h.rows() - 1;
    for (int count = 0; high >= 0; ++count) {
        const Index low = block_start(h, high, norm);
        if (low == high) {
            values[high] = h(high, high);
            high -= 1;
            count = -1;
        } else if (low == high - 1) {
            pair_of(h, high, values);
            high -= 2;
            count = -1;
        } else if (count > 60) {
            throw std::domain_error("hessenberg_eigenvalues: no convergence in 60 sweeps");
        } else {
            sweep(h, low, high, count);
        }
    }
    return values;
}

}  // namespace standfast
