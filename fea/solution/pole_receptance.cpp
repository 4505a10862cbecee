#include "fea/solution/pole_receptance.hpp"

#include <Eigen/Eigenvalues>
#include <Eigen/LU>
#include <algorithm>
#include <cmath>

#include "fea/solution/statics.hpp"

namespace standfast {
namespace {

constexpr std::complex<double> kImaginary{0, 1};

// Modes whose loss forces, which couple them with what is not kept, are followed.
constexpr Eigen::Index kLossFollowed = 8;

// Shapes whose part that is new has less than this share of their mass norm are dropped.
constexpr double kLeastNew = 1e-7;

/// Columns made M-orthonormal one after the other (twice, for the digits); dependent ones go.
Eigen::MatrixXd mass_orthonormal(const Eigen::SparseMatrix<double>& mass,
                                 const Eigen::MatrixXd& shapes) {
    Eigen::MatrixXd basis(shapes.rows(), shapes.cols());
    Eigen::MatrixXd mass_basis = basis;
    Eigen::Index kept = 0;
    for (Eigen::Index column = 0; column < shapes.cols(); ++column) {
        Eigen::VectorXd shape = shapes.col(column);
        const double before = std::sqrt(shape.dot(mass * shape));
        if (before <= 0) continue;
        shape /= before;
        for (int pass = 0; pass < 2; ++pass) {
            shape -= basis.leftCols(kept) * (mass_basis.leftCols(kept).transpose() * shape);
        }
        const double left = std::sqrt(std::max(shape.dot(mass * shape), 0.0));
        if (left < kLeastNew) continue;
        basis.col(kept) = shape / left;
        mass_basis.col(kept) = mass * basis.col(kept);
        ++kept;
    }
    return basis.leftCols(kept);
}

/// Imaginary part of K(1 + i eta).
Eigen::SparseMatrix<double> loss_matrix(const AssembledSystem& system) {
    Eigen::SparseMatrix<double> loss(system.size, system.size);
    for (const StiffnessParameter& parameter : system.stiffness) {
        loss += parameter.shape * (parameter.value * parameter.loss_factor);
    }
    return loss;
}

/// Modes; static answers to unit loads, to the inertia of those and to the loss forces of both.
Eigen::MatrixXd shapes_of(const AssembledSystem& system, const std::vector<Mode>& modes,
                          const Eigen::SparseMatrix<double>& mass,
                          const Eigen::MatrixXd& unit_loads) {
    const StaticSolution statics(system);
    const auto count = static_cast<Eigen::Index>(modes.size());
    Eigen::MatrixXd elastic(system.size, count);
    for (Eigen::Index m = 0; m < count; ++m) {
        elastic.col(m) = modes[static_cast<std::size_t>(m)].shape;
    }
    const Eigen::MatrixXd first = statics.displacements(unit_loads);
    const Eigen::Index followed = std::min(kLossFollowed, count);
    Eigen::MatrixXd forces(system.size, 6 + followed);
    const Eigen::SparseMatrix<double> loss = loss_matrix(system);
    forces << mass * first, loss * first, loss * elastic.leftCols(followed);
    Eigen::MatrixXd shapes(system.size, count + 9 + followed);
    shapes << elastic, first, statics.displacements(forces);
    return shapes;
}

/// V^T K(1 + i eta) V.
Eigen::MatrixXcd projected_stiffness(const AssembledSystem& system, const Eigen::MatrixXd& basis) {
    Eigen::MatrixXcd sum = Eigen::MatrixXcd::Zero(basis.cols(), basis.cols());
    for (const StiffnessParameter& parameter : system.stiffness) {
        const Eigen::MatrixXd part = basis.transpose() * (parameter.shape * basis);
        sum += part * (parameter.value * (1.0 + kImaginary * parameter.loss_factor));
    }
    return sum;
}

}  // namespace

PoleReceptance pole_receptance(const AssembledSystem& system, const std::vector<Mode>& modes,
                               const MaterialPoint& point) {
    const Eigen::SparseMatrix<double> mass = mass_matrix(system);
    const Eigen::MatrixXd at_point = Eigen::MatrixXd(point_displacement(system, point));
    const Eigen::MatrixXd basis =
        mass_orthonormal(mass, shapes_of(system, modes, mass, at_point.transpose()));
    const Eigen::ComplexEigenSolver<Eigen::MatrixXcd> eigen(projected_stiffness(system, basis));
    const Eigen::MatrixXcd loads = (at_point * basis).transpose().cast<std::complex<double>>();
    const Eigen::MatrixXcd right = loads.transpose() * eigen.eigenvectors();  // 3 x r
    const Eigen::MatrixXcd left = eigen.eigenvectors().partialPivLu().solve(loads);
    PoleReceptance receptance;
    for (Eigen::Index k = 0; k < eigen.eigenvalues().size(); ++k) {
        const Eigen::Matrix3cd residue = right.col(k) * left.row(k);
        receptance.pole.push_back(eigen.eigenvalues()[k]);
        receptance.residue.push_back((residue + residue.transpose()) / 2);
    }
    return receptance;
}

Eigen::Matrix3cd receptance_at(const PoleReceptance& receptance, AngularFrequency frequency) {
    const double square = frequency.radians_per_second * frequency.radians_per_second;
    Eigen::Matrix3cd sum = Eigen::Matrix3cd::Zero();
    for (std::size_t k = 0; k < receptance.pole.size(); ++k) {
        // Spelled out: the general complex division guards against overflows that cannot occur.
        const std::complex<double> away = receptance.pole[k] - square;
        sum += receptance.residue[k] * (std::conj(away) / std::norm(away));
    }
    return sum;
}

}  // namespace standfast
