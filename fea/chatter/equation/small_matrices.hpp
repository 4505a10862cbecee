#pragma once

#include <Eigen/Core>
#include <Eigen/LU>
#include <cmath>

namespace standfast {

/// A product without the packing that pays only for large matrices.
template <class Left, class Right>
Eigen::MatrixXd small_product(const Left& left, const Right& right) {
    if (left.rows() <= 12) return left.lazyProduct(right);
    return left * right;
}

/// The inverse by Gauss-Jordan elimination with column pivots; small matrices are done before a
/// general routine has begun.
inline Eigen::MatrixXd inverse_of(const Eigen::MatrixXd& matrix) {
    using Eigen::Index, Eigen::MatrixXd;
    const Index n = matrix.rows();
    if (n > 12) return Eigen::PartialPivLU<MatrixXd>(matrix).inverse();
    MatrixXd left = matrix, right = MatrixXd::Identity(n, n);
    for (Index k = 0; k < n; ++k) {
        Index pivot = k;
        for (Index j = k + 1; j < n; ++j) {
            if (std::abs(left(k, j)) > std::abs(left(k, pivot))) pivot = j;
        }
        if (pivot != k) {
            left.col(k).swap(left.col(pivot));
            right.col(k).swap(right.col(pivot));
        }
        const double scale = 1 / left(k, k);
        for (Index i = 0; i < n; ++i) left(i, k) *= scale;
        for (Index i = 0; i < n; ++i) right(i, k) *= scale;
        for (Index j = 0; j < n; ++j) {
            const double factor = left(k, j);
            if (j == k || factor == 0) continue;
            for (Index i = k; i < n; ++i) left(i, j) -= factor * left(i, k);
            for (Index i = 0; i < n; ++i) right(i, j) -= factor * right(i, k);
        }
    }
    return right;
}

}  // namespace standfast
