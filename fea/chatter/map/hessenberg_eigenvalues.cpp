#include "fea/chatter/map/hessenberg_eigenvalues.hpp"

#include <Eigen/Eigenvalues>
#include <algorithm>
#include <cmath>
#include <complex>
#include <limits>

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
Index block_start(MatrixXd& h, Index high, double negligible) {
    Index low = high;
    for (; low > 0; --low) {
        const double scale = std::abs(h(low - 1, low - 1)) + std::abs(h(low, low));
        if (std::abs(h(low, low - 1)) <= std::max(kRounding * scale, negligible)) {
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

// The reflection that turns (p, q, r) into a multiple of the first unit vector.
struct Reflection {
    double x, y, z;  // of rows
    double q, r;     // of columns
};

Reflection reflection_of(Triple t, double signed_norm) {
    const double p = t.p + signed_norm;
    return {p / signed_norm, t.q / signed_norm, t.r / signed_norm, t.q / p, t.r / p};
}

// Rows and columns k, k + 1, k + 2 within the block low .. high.
void reflect_three(MatrixXd& h, Index low, Index high, Index k, const Reflection& f) {
    for (Index j = k; j <= high; ++j) {
        double* const at = &h(k, j);
        const double share = at[0] + f.q * at[1] + f.r * at[2];
        at[0] -= share * f.x;
        at[1] -= share * f.y;
        at[2] -= share * f.z;
    }
    double* const first = &h(0, k);
    double* const second = &h(0, k + 1);
    double* const third = &h(0, k + 2);
    for (Index i = low; i <= std::min(high, k + 3); ++i) {
        const double share = f.x * first[i] + f.y * second[i] + f.z * third[i];
        first[i] -= share;
        second[i] -= share * f.q;
        third[i] -= share * f.r;
    }
}

// The last two of the block.
void reflect_two(MatrixXd& h, Index low, Index high, const Reflection& f) {
    const Index k = high - 1;
    for (Index j = k; j <= high; ++j) {
        const double share = h(k, j) + f.q * h(k + 1, j);
        h(k, j) -= share * f.x;
        h(k + 1, j) -= share * f.y;
    }
    for (Index i = low; i <= high; ++i) {
        const double share = f.x * h(i, k) + f.y * h(i, k + 1);
        h(i, k) -= share;
        h(i, k + 1) -= share * f.q;
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
        if (k < high - 1) {
            reflect_three(h, low, high, k, reflection_of(t, norm));
        } else {
            reflect_two(h, low, high, reflection_of(t, norm));
        }
    }
}

}  // namespace

// Plain loops: at these sizes the general routines spend their time on getting started.
MatrixXd hessenberg_form(MatrixXd matrix) {
    const Index n = matrix.rows();
    Eigen::VectorXd normal(n), along(n);
    for (Index k = 0; k + 2 < n; ++k) {
        double below = 0;
        for (Index i = k + 2; i < n; ++i) below += matrix(i, k) * matrix(i, k);
        if (below == 0) continue;
        const double head = matrix(k + 1, k);
        const double turned = -std::copysign(std::sqrt(head * head + below), head);
        normal[k + 1] = head - turned;
        for (Index i = k + 2; i < n; ++i) normal[i] = matrix(i, k);
        const double scale = 2 / (normal[k + 1] * normal[k + 1] + below);
        matrix(k + 1, k) = turned;
        for (Index i = k + 2; i < n; ++i) matrix(i, k) = 0;
        for (Index j = k + 1; j < n; ++j) {
            double share = 0;
            for (Index i = k + 1; i < n; ++i) share += normal[i] * matrix(i, j);
            share *= scale;
            for (Index i = k + 1; i < n; ++i) matrix(i, j) -= share * normal[i];
        }
        along.setZero();
        for (Index j = k + 1; j < n; ++j) {
            for (Index i = 0; i < n; ++i) along[i] += normal[j] * matrix(i, j);
        }
        for (Index j = k + 1; j < n; ++j) {
            const double factor = scale * normal[j];
            for (Index i = 0; i < n; ++i) matrix(i, j) -= factor * along[i];
        }
    }
    return matrix;
}

Eigen::VectorXcd hessenberg_eigenvalues(const MatrixXd& hessenberg, double tolerance) {
    MatrixXd h = hessenberg;
    Eigen::VectorXcd values(h.rows());
    const double negligible = std::max(tolerance, 1e-2 * kRounding) * h.norm();
    Index high = h.rows() - 1;
    for (int count = 0; high >= 0; ++count) {
        const Index low = block_start(h, high, negligible);
        if (low == high) {
            values[high] = h(high, high);
            high -= 1;
            count = -1;
        } else if (low == high - 1) {
            pair_of(h, high, values);
            high -= 2;
            count = -1;
        } else if (count > 60) {
            return Eigen::EigenSolver<MatrixXd>(hessenberg, false).eigenvalues();
        } else {
            sweep(h, low, high, count);
        }
    }
    return values;
}

}  // namespace standfast
