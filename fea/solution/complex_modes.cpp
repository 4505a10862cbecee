#include "fea/solution/complex_modes.hpp"

#include <Eigen/Eigenvalues>
#include <algorithm>
#include <cmath>
#include <complex>
#include <numeric>

#include "fea/solution/statics.hpp"

namespace standfast {
namespace {

using Complex = std::complex<double>;
using Eigen::Index;
using Eigen::MatrixXcd;
using Eigen::MatrixXd;
using Eigen::VectorXcd;

// Modes whose loss forces, which couple them with what is not kept, are followed.
constexpr Index kLossFollowed = 8;
// Shapes whose part that is new has less than this share of their mass norm are dropped.
constexpr double kLeastNew = 1e-5;
// Couplings below this share of the stiffness are rounding.
constexpr double kUncoupled = 1e-10;
// Eigenvalues nearer to each other than this share are one.
constexpr double kSame = 1e-7;

Eigen::SparseMatrix<double> loss_matrix(const AssembledSystem& system) {
    Eigen::SparseMatrix<double> loss(system.size, system.size);
    for (const StiffnessParameter& parameter : system.stiffness) {
        loss += parameter.shape * (parameter.value * parameter.loss_factor);
    }
    return loss;
}

// The modes' shapes and behind them, M-orthonormal to all, the answers to loss forces.
MatrixXd basis_of(const AssembledSystem& system, const std::vector<Mode>& modes,
                  const Eigen::SparseMatrix<double>& loss) {
    const auto count = static_cast<Index>(modes.size());
    const Index followed = std::min(kLossFollowed, count);
    MatrixXd basis(system.size, count + followed);
    for (Index m = 0; m < count; ++m) basis.col(m) = modes[static_cast<std::size_t>(m)].shape;
    const Eigen::SparseMatrix<double> mass = mass_matrix(system);
    MatrixXd massive = MatrixXd(basis.rows(), basis.cols());
    massive.leftCols(count) = mass * basis.leftCols(count);
    const MatrixXd answers = StaticSolution(system).displacements(loss * basis.leftCols(followed));
    Index kept = count;
    for (Index k = 0; k < followed; ++k) {
        Eigen::VectorXd shape = answers.col(k);
        const double before = std::sqrt(shape.dot(mass * shape));
        if (!(before > 0)) continue;
        shape /= before;
        for (int pass = 0; pass < 2; ++pass) {
            shape -= basis.leftCols(kept) * (massive.leftCols(kept).transpose() * shape);
        }
        const double left = std::sqrt(std::max(0.0, shape.dot(mass * shape)));
        if (left < kLeastNew) continue;
        basis.col(kept) = shape / left;
        massive.col(kept) = mass * basis.col(kept);
        ++kept;
    }
    return basis.leftCols(kept);
}

// Groups of rows that a symmetric matrix couples.
std::vector<std::vector<Index>> blocks_of(const MatrixXcd& matrix) {
    const Index size = matrix.rows();
    std::vector<Index> group(static_cast<std::size_t>(size));
    std::iota(group.begin(), group.end(), Index{0});
    for (Index i = 0; i < size; ++i) {
        for (Index j = 0; j < i; ++j) {
            const double scale = std::sqrt(std::abs(matrix(i, i)) * std::abs(matrix(j, j)));
            if (std::abs(matrix(i, j)) <= kUncoupled * scale) continue;
            const Index a = group[static_cast<std::size_t>(i)];
            const Index b = group[static_cast<std::size_t>(j)];
            std::replace(group.begin(), group.end(), std::max(a, b), std::min(a, b));
        }
    }
    std::vector<std::vector<Index>> blocks(static_cast<std::size_t>(size));
    for (Index i = 0; i < size; ++i) {
        blocks[static_cast<std::size_t>(group[static_cast<std::size_t>(i)])].push_back(i);
    }
    std::erase_if(blocks, [](const auto& block) { return block.empty(); });
    return blocks;
}

struct Eigenpairs {
    VectorXcd value;
    MatrixXcd vector;  // columns with v^T v = 1
};

// Of eigenvalues that coincide any mixture of vectors comes; each is made orthogonal to those
// before it, the one farthest from v^T v = 0 taken next.
void make_orthonormal(Eigenpairs& pairs) {
    const Index size = pairs.value.size();
    for (Index k = 0; k < size; ++k) {
        Index best = k;
        double farthest = -1;
        for (Index j = k; j < size; ++j) {
            if (j > k &&
                std::abs(pairs.value[j] - pairs.value[k]) > kSame * std::abs(pairs.value[k])) {
                continue;
            }
            for (Index i = 0; i < k; ++i) {
                if (std::abs(pairs.value[i] - pairs.value[j]) > kSame * std::abs(pairs.value[j])) {
                    continue;
                }
                const Complex share =
                    (pairs.vector.col(i).transpose() * pairs.vector.col(j)).value();
                pairs.vector.col(j) -= share * pairs.vector.col(i);
            }
            const double size_of =
                std::abs((pairs.vector.col(j).transpose() * pairs.vector.col(j)).value()) /
                std::max(pairs.vector.col(j).squaredNorm(), 1e-300);
            if (size_of > farthest) {
                farthest = size_of;
                best = j;
            }
        }
        if (best != k) {
            std::swap(pairs.value[k], pairs.value[best]);
            pairs.vector.col(k).swap(pairs.vector.col(best));
        }
        const Complex square = (pairs.vector.col(k).transpose() * pairs.vector.col(k)).value();
        pairs.vector.col(k) /= std::sqrt(square);
    }
}

Eigenpairs eigenpairs_of(const MatrixXcd& matrix) {
    Eigenpairs all{VectorXcd(matrix.rows()), MatrixXcd::Zero(matrix.rows(), matrix.rows())};
    Index done = 0;
    for (const std::vector<Index>& block : blocks_of(matrix)) {
        const MatrixXcd part = matrix(block, block);
        const Eigen::ComplexEigenSolver<MatrixXcd> solver(part);
        Eigenpairs pairs{solver.eigenvalues(), solver.eigenvectors()};
        make_orthonormal(pairs);
        for (Index k = 0; k < pairs.value.size(); ++k, ++done) {
            all.value[done] = pairs.value[k];
            for (std::size_t row = 0; row < block.size(); ++row) {
                all.vector(block[row], done) = pairs.vector(static_cast<Index>(row), k);
            }
        }
    }
    return all;
}

}  // namespace

std::vector<ComplexMode> complex_modes(const AssembledSystem& system,
                                       const std::vector<Mode>& modes,
                                       const Eigen::SparseMatrix<double, Eigen::RowMajor>& rows) {
    if (modes.empty()) return {};
    const Eigen::SparseMatrix<double> loss = loss_matrix(system);
    const MatrixXd basis = basis_of(system, modes, loss);
    const MatrixXd stiffness = basis.transpose() * (stiffness_matrix(system) * basis);
    const MatrixXd lost = basis.transpose() * (loss * basis);
    const Eigenpairs pairs = eigenpairs_of(stiffness.cast<Complex>() + Complex(0, 1) * lost);
    std::vector<Index> order(static_cast<std::size_t>(pairs.value.size()));
    std::iota(order.begin(), order.end(), Index{0});
    std::sort(order.begin(), order.end(), [&](Index a, Index b) {
        return std::abs(pairs.value[a]) < std::abs(pairs.value[b]);
    });
    const MatrixXd felt = rows * basis;
    std::vector<ComplexMode> result;
    for (std::size_t m = 0; m < modes.size(); ++m) {
        const Complex root = std::sqrt(pairs.value[order[m]]);
        const VectorXcd shape = felt * pairs.vector.col(order[m]);
        result.push_back({.frequency = AngularFrequency{std::abs(root)},
                          .damping_ratio = root.imag() / std::abs(root),
                          .shape = shape});
    }
    return result;
}

}  // namespace standfast
