#pragma once

#include <Eigen/Core>
#include <Eigen/StdVector>
#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

#include "fea/solution/node_pattern.hpp"

namespace standfast {

/// Blocks of a symmetric (for complex numbers: not Hermitian) matrix, by the pattern's slots.
template <class Scalar>
using NodeBlocks = std::vector<Eigen::Matrix<Scalar, 6, 6>>;

template <class Scalar>
NodeBlocks<Scalar> zero_blocks(const NodePattern& pattern) {
    return NodeBlocks<Scalar>(static_cast<std::size_t>(pattern.slot_count()),
                              Eigen::Matrix<Scalar, 6, 6>::Zero());
}

/// blocks += weight x shape.
template <class Scalar>
void add_shape(const NodePattern& pattern, NodeBlocks<Scalar>& blocks,
               const Eigen::SparseMatrix<double>& shape, Scalar weight) {
    for (Eigen::Index column = 0; column < shape.outerSize(); ++column) {
        const auto column_node = static_cast<int>(column / 6);
        for (Eigen::SparseMatrix<double>::InnerIterator entry(shape, column); entry; ++entry) {
            const auto row_node = static_cast<int>(entry.row() / 6);
            if (pattern.comes_before(row_node, column_node)) continue;  // the other half
            const int slot = pattern.slot(row_node, column_node);
            blocks[static_cast<std::size_t>(slot)](entry.row() % 6, column % 6) +=
                weight * entry.value();
        }
    }
}

/// The pivot that is smallest against the diagonal entry it began as.
struct WeakestPivot {
    double ratio = std::numeric_limits<double>::infinity();
    Eigen::Index freedom = 0;
    int negative = 0;  ///< how many pivots have a negative real part
};

/// A -> L D L^T in place, node by node in the pattern's order, without pivoting: for positive
/// definite matrices and for K(1 + i eta) - w^2 M with damping everywhere. The caller judges by
/// the weakest pivot whether the result can be trusted.
/// @param nodes  how many nodes to eliminate; what is left of the later ones is their dynamic
///               stiffness with the earlier ones free
template <class Scalar>
WeakestPivot factorise(const NodePattern& pattern, NodeBlocks<Scalar>& blocks, int nodes);

template <class Scalar>
WeakestPivot factorise(const NodePattern& pattern, NodeBlocks<Scalar>& blocks) {
    return factorise(pattern, blocks, pattern.node_count());
}

/// x <- A^-1 x with the factors of `factorise`; x: n x m.
template <class Scalar>
void solve_in_place(const NodePattern& pattern, const NodeBlocks<Scalar>& blocks,
                    Eigen::Matrix<Scalar, Eigen::Dynamic, Eigen::Dynamic>& x);

/// y = A x with the blocks of a matrix that is not factorised.
void multiply(const NodePattern& pattern, const NodeBlocks<double>& blocks, const double* x,
              double* y);

namespace node_factor_detail {

/// The diagonal block: unit L below, D on the diagonal.
template <class Scalar>
void factorise_block(Eigen::Matrix<Scalar, 6, 6>& a, Eigen::Index first_freedom,
                     const Eigen::Matrix<double, 6, 1>& began_as, WeakestPivot& weakest) {
    for (Eigen::Index k = 0; k < 6; ++k) {
        const Scalar pivot = a(k, k);
        if (std::real(pivot) < 0) ++weakest.negative;
        const double ratio = std::abs(pivot) / began_as[k];
        if (!(ratio >= weakest.ratio)) {
            weakest.ratio = std::isfinite(ratio) ? ratio : 0;
            weakest.freedom = first_freedom + k;
        }
        const Scalar inverse = Scalar(1) / pivot;
        for (Eigen::Index j = k + 1; j < 6; ++j) {
            const Scalar factor = a(j, k) * inverse;
            for (Eigen::Index i = j; i < 6; ++i) a(i, j) -= factor * a(i, k);
        }
        for (Eigen::Index i = k + 1; i < 6; ++i) a(i, k) *= inverse;
    }
}

/// v <- v L^-T.
template <class Scalar>
void divide_by_factor(Eigen::Matrix<Scalar, 6, 6>& v, const Eigen::Matrix<Scalar, 6, 6>& factor) {
    for (Eigen::Index k = 1; k < 6; ++k) {
        for (Eigen::Index m = 0; m < k; ++m) v.col(k) -= factor(k, m) * v.col(m);
    }
}

}  // namespace node_factor_detail

template <class Scalar>
WeakestPivot factorise(const NodePattern& pattern, NodeBlocks<Scalar>& blocks, int nodes) {
    using Block = Eigen::Matrix<Scalar, 6, 6>;
    WeakestPivot weakest;
    std::vector<Eigen::Matrix<double, 6, 1>> began_as(
        static_cast<std::size_t>(pattern.node_count()));
    for (std::size_t i = 0; i < began_as.size(); ++i) {
        began_as[i] = blocks[i].diagonal().cwiseAbs();
    }
    for (int step = 0; step < nodes; ++step) {
        const int node = pattern.order()[static_cast<std::size_t>(step)];
        const auto here = static_cast<std::size_t>(node);
        Block& diagonal = blocks[here];
        node_factor_detail::factorise_block(diagonal, 6 * Eigen::Index{node}, began_as[here],
                                            weakest);
        for (const auto& neighbour : pattern.later(node)) {
            node_factor_detail::divide_by_factor(blocks[static_cast<std::size_t>(neighbour.slot)],
                                                 diagonal);
        }
        const Eigen::Matrix<Scalar, 6, 1> inverse = diagonal.diagonal().cwiseInverse();
        for (const auto& update : pattern.updates(node)) {
            const Block scaled =
                blocks[static_cast<std::size_t>(update.right)] * inverse.asDiagonal();
            blocks[static_cast<std::size_t>(update.target)].noalias() -=
                blocks[static_cast<std::size_t>(update.left)] * scaled.transpose();
        }
    }
    return weakest;
}

template <class Scalar>
void solve_in_place(const NodePattern& pattern, const NodeBlocks<Scalar>& blocks,
                    Eigen::Matrix<Scalar, Eigen::Dynamic, Eigen::Dynamic>& x) {
    using Rows = Eigen::Matrix<Scalar, 6, 1>;
    for (Eigen::Index column = 0; column < x.cols(); ++column) {
        const auto rows = [&](int node) {
            return x.col(column).template segment<6>(6 * Eigen::Index{node});
        };
        for (const int node : pattern.order()) {
            const auto& diagonal = blocks[static_cast<std::size_t>(node)];
            Rows here = rows(node);
            diagonal.template triangularView<Eigen::UnitLower>().solveInPlace(here);
            here.array() /= diagonal.diagonal().array();
            rows(node) = here;
            for (const auto& later : pattern.later(node)) {
                rows(later.node).noalias() -= blocks[static_cast<std::size_t>(later.slot)] * here;
            }
        }
        for (auto step = pattern.order().rbegin(); step != pattern.order().rend(); ++step) {
            const auto& diagonal = blocks[static_cast<std::size_t>(*step)];
            Rows moved = Rows::Zero();
            for (const auto& later : pattern.later(*step)) {
                moved.noalias() +=
                    blocks[static_cast<std::size_t>(later.slot)].transpose() * rows(later.node);
            }
            Rows here = rows(*step);
            here.array() -= moved.array() / diagonal.diagonal().array();
            diagonal.template triangularView<Eigen::UnitLower>().transpose().solveInPlace(here);
            rows(*step) = here;
        }
    }
}

inline void multiply(const NodePattern& pattern, const NodeBlocks<double>& blocks, const double* x,
                     double* y) {
    const Eigen::Index size = 6 * Eigen::Index{pattern.node_count()};
    const Eigen::Map<const Eigen::VectorXd> in(x, size);
    Eigen::Map<Eigen::VectorXd> out(y, size);
    out.setZero();
    for (int node = 0; node < pattern.node_count(); ++node) {
        const Eigen::Index here = 6 * Eigen::Index{node};
        out.segment<6>(here).noalias() +=
            blocks[static_cast<std::size_t>(node)] * in.segment<6>(here);
        for (const auto& later : pattern.later(node)) {
            const Eigen::Index there = 6 * Eigen::Index{later.node};
            const auto& block = blocks[static_cast<std::size_t>(later.slot)];
            out.segment<6>(there).noalias() += block * in.segment<6>(here);
            out.segment<6>(here).noalias() += block.transpose() * in.segment<6>(there);
        }
    }
}

}  // namespace standfast
