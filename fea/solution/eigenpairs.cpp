#include "fea/solution/eigenpairs.hpp"

#include <Spectra/SymGEigsShiftSolver.h>

#include <Eigen/Eigenvalues>
#include <algorithm>
#include <random>
#include <stdexcept>

namespace standfast {
namespace {

constexpr Eigen::Index kDenseSize = 36;
constexpr double kLoosePivot = 1e-14;

/// (K - shift M)^-1 x, in Spectra's words.
class ShiftedInverse {
public:
    using Scalar = double;

    ShiftedInverse(const StiffnessAndMass& system, double shift)
        : pattern_(system.pattern), blocks_(system.stiffness) {
        for (std::size_t i = 0; i < blocks_.size(); ++i) blocks_[i] -= shift * system.mass[i];
        pivots_ = factorise(pattern_, blocks_);
    }
    Eigen::Index rows() const { return 6 * Eigen::Index{pattern_.node_count()}; }
    Eigen::Index cols() const { return rows(); }
    void set_shift(double) const {}  // factorised in the constructor
    void perform_op(const double* x, double* y) const {
        Eigen::MatrixXd solution = Eigen::Map<const Eigen::VectorXd>(x, rows());
        solve_in_place(pattern_, blocks_, solution);
        Eigen::Map<Eigen::VectorXd>(y, rows()) = solution;
    }
    Eigen::MatrixXd operator*(Eigen::MatrixXd x) const {
        solve_in_place(pattern_, blocks_, x);
        return x;
    }
    const WeakestPivot& pivots() const { return pivots_; }

private:
    const NodePattern& pattern_;
    NodeBlocks<double> blocks_;
    WeakestPivot pivots_;
};

class Product {
public:
    using Scalar = double;

    Product(const NodePattern& pattern, const NodeBlocks<double>& blocks)
        : pattern_(pattern), blocks_(blocks) {}
    Eigen::Index rows() const { return 6 * Eigen::Index{pattern_.node_count()}; }
    Eigen::Index cols() const { return rows(); }
    void perform_op(const double* x, double* y) const { multiply(pattern_, blocks_, x, y); }
    Eigen::MatrixXd operator*(const Eigen::MatrixXd& x) const {
        Eigen::MatrixXd y(x.rows(), x.cols());
        for (Eigen::Index i = 0; i < x.cols(); ++i) {
            multiply(pattern_, blocks_, x.col(i).data(), y.col(i).data());
        }
        return y;
    }

private:
    const NodePattern& pattern_;
    const NodeBlocks<double>& blocks_;
};

/// A shift far enough below 0 for K - shift M to be definite where K is not, and near enough not to
/// crowd the lowest eigenvalues: the least K_ii / M_ii is a Rayleigh quotient, so above the lowest.
double shift_below_zero(const StiffnessAndMass& system) {
    double least = std::numeric_limits<double>::infinity();
    for (int node = 0; node < system.pattern.node_count(); ++node) {
        const auto slot = static_cast<std::size_t>(node);
        for (int i = 0; i < 6; ++i) {
            const double mass = system.mass[slot](i, i);
            const double stiffness = system.stiffness[slot](i, i);
            if (mass > 0 && stiffness > 0) least = std::min(least, stiffness / mass);
        }
    }
    if (!std::isfinite(least)) {
        throw std::domain_error("modes: no freedom has both mass and stiffness");
    }
    return -1e-6 * least;
}

/// Rayleigh-Ritz: the best eigenpairs that combinations of the given vectors can make. Vectors of
/// the kind (K - shift M)^-1 M y are free of motions without mass.
Eigenpairs best_within(const StiffnessAndMass& system, const Eigen::MatrixXd& vectors) {
    const Product stiffness(system.pattern, system.stiffness);
    const Product mass(system.pattern, system.mass);
    Eigen::MatrixXd scaled = vectors;
    const Eigen::MatrixXd mass_times = mass * vectors;
    for (Eigen::Index i = 0; i < scaled.cols(); ++i) {
        scaled.col(i) /= std::sqrt(scaled.col(i).dot(mass_times.col(i)));
    }
    const Eigen::MatrixXd small_stiffness = scaled.transpose() * (stiffness * scaled);
    const Eigen::MatrixXd small_mass = scaled.transpose() * (mass * scaled);
    const Eigen::GeneralizedSelfAdjointEigenSolver<Eigen::MatrixXd> ritz(small_stiffness,
                                                                         small_mass);
    if (ritz.info() != Eigen::Success) throw std::runtime_error("modes: no convergence");
    return {.values = ritz.eigenvalues(), .vectors = scaled * ritz.eigenvectors()};
}

Eigen::MatrixXd dense(const NodePattern& pattern, const NodeBlocks<double>& blocks) {
    const Product product(pattern, blocks);
    return product * Eigen::MatrixXd::Identity(product.rows(), product.rows());
}

/// M v = nu (K - shift M) v with nu = 1 / (lambda - shift): freedoms without mass have nu = 0.
Eigenpairs dense_eigenpairs(const StiffnessAndMass& system, Eigen::Index count, double shift) {
    const Eigen::MatrixXd mass = dense(system.pattern, system.mass);
    const Eigen::MatrixXd shifted = dense(system.pattern, system.stiffness) - shift * mass;
    // Freedoms differ in units and by many decades: an even diagonal keeps the digits.
    const Eigen::VectorXd scale = shifted.diagonal().cwiseSqrt().cwiseInverse();
    const Eigen::GeneralizedSelfAdjointEigenSolver<Eigen::MatrixXd> solver(
        scale.asDiagonal() * mass * scale.asDiagonal(),
        scale.asDiagonal() * shifted * scale.asDiagonal());
    if (solver.info() != Eigen::Success) throw std::runtime_error("modes: no convergence");
    const Eigen::VectorXd& nu = solver.eigenvalues();  // ascending
    const double no_mass = 1e-13 * nu.cwiseAbs().maxCoeff();
    const Eigen::Index kept = std::min<Eigen::Index>(count, (nu.array() > no_mass).count());
    const Eigen::MatrixXd vectors =
        scale.asDiagonal() * solver.eigenvectors().rightCols(kept).rowwise().reverse();
    return best_within(system, vectors);
}

Eigenpairs lanczos(const StiffnessAndMass& system, ShiftedInverse& inverse, Eigen::Index count,
                   double shift) {
    Product mass(system.pattern, system.mass);
    const auto subspace = std::min(inverse.rows(), std::max<Eigen::Index>(2 * count + 1, 20));
    Spectra::SymGEigsShiftSolver<ShiftedInverse, Product, Spectra::GEigsMode::ShiftInvert> solver(
        inverse, mass, count, subspace, shift);
    solver.init();
    solver.compute(Spectra::SortRule::LargestMagn, 300, 1e-10);
    if (solver.info() != Spectra::CompInfo::Successful) {
        throw std::runtime_error("modes: the iteration did not converge");
    }
    // One more step of the operator clears motions without mass out of the vectors.
    return best_within(system, inverse * (mass * solver.eigenvectors()));
}

/// How many eigenvalues lie below mu.
Eigen::Index count_below(const StiffnessAndMass& system, double mu) {
    return ShiftedInverse(system, mu).pivots().negative;
}

/// Subspace iteration from what is known and as many random vectors as are missing, and some.
Eigenpairs with_missing(const StiffnessAndMass& system, const ShiftedInverse& inverse,
                        const Eigenpairs& known, Eigen::Index missing) {
    const Product mass(system.pattern, system.mass);
    std::mt19937 random(1);  // NOLINT(bugprone-random-generator-seed): the same answer every time
    std::uniform_real_distribution<double> entry(-1, 1);
    Eigen::MatrixXd vectors(inverse.rows(), known.vectors.cols() + missing + 6);
    vectors.leftCols(known.vectors.cols()) = known.vectors;
    for (Eigen::Index i = known.vectors.cols(); i < vectors.cols(); ++i) {
        for (Eigen::Index row = 0; row < vectors.rows(); ++row) vectors(row, i) = entry(random);
    }
    Eigenpairs pairs = best_within(system, inverse * (mass * vectors));
    const Eigen::Index wanted = known.values.size() + missing;
    for (int step = 0; step < 60; ++step) {
        const Eigen::VectorXd before = pairs.values.head(wanted);
        pairs = best_within(system, inverse * (mass * pairs.vectors));
        const Eigen::ArrayXd change = (pairs.values.head(wanted) - before).array().abs();
        if ((change <= 1e-11 * before.array().abs()).all()) break;
    }
    return pairs;
}

}  // namespace

Eigenpairs lowest_eigenpairs(const StiffnessAndMass& system, Eigen::Index count) {
    const double shift = shift_below_zero(system);
    ShiftedInverse inverse(system, shift);  // Spectra asks for non-const
    if (!(inverse.pivots().ratio > kLoosePivot) || inverse.pivots().negative > 0) {
        throw std::domain_error(
            "modes: a freedom has neither mass nor stiffness, or a mass matrix is not positive");
    }
    const Eigen::Index size = inverse.rows();
    if (size <= kDenseSize || 3 * count > size) return dense_eigenpairs(system, count, shift);

    Eigenpairs pairs = lanczos(system, inverse, count, shift);
    const double last = pairs.values[count - 1];
    if (!(last > 0)) return pairs;
    const double mu = last * (1 - 1e-6);
    const Eigen::Index found = (pairs.values.array() < mu).count();
    const Eigen::Index present = count_below(system, mu);
    if (present > found) pairs = with_missing(system, inverse, pairs, present - found);
    return {.values = pairs.values.head(count), .vectors = pairs.vectors.leftCols(count)};
}

}  // namespace standfast
