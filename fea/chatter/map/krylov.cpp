#include "fea/chatter/map/krylov.hpp"

#include <algorithm>
#include <cmath>

#include "fea/chatter/map/hessenberg_eigenvalues.hpp"

namespace standfast {
namespace {

constexpr double kRough = 5e-3;
constexpr double kDying = 0.8, kSteady = 0.03;  // where two looks agree on it that will do
constexpr Eigen::Index kLong = 24;       // steps more than usual, and its rate no longer matters
constexpr double kFinest = 1e-5;         // residual that a look for several asks for at most
constexpr double kNextToNothing = 0.03;  // where all motion dies at once, its rates hardly differ

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXcd;
using Eigen::VectorXd;

std::complex<double> largest_of(const VectorXcd& values) {
    std::complex<double> best = 0;
    for (const std::complex<double>& value : values) {
        if (std::norm(value) > std::norm(best) * (1 + 1e-14)) best = value;
    }
    return best.imag() < 0 ? std::conj(best) : best;
}

// Inverse iteration on H - value, eliminating row by row with pivoting between neighbours.
VectorXcd hessenberg_vector(const MatrixXd& hessenberg, std::complex<double> value) {
    const Index n = hessenberg.rows();
    Eigen::MatrixXcd upper = hessenberg.cast<std::complex<double>>();
    upper.diagonal().array() -= value;
    const double tiny = 1e-15 * std::max(hessenberg.norm(), 1e-130);
    VectorXcd vector = VectorXcd::Ones(n);
    for (Index k = 0; k + 1 < n; ++k) {
        if (std::norm(upper(k + 1, k)) > std::norm(upper(k, k))) {
            upper.row(k).tail(n - k).swap(upper.row(k + 1).tail(n - k));
        }
        if (std::norm(upper(k, k)) < tiny * tiny) upper(k, k) = tiny;
        const std::complex<double> factor = upper(k + 1, k) / upper(k, k);
        upper.row(k + 1).tail(n - k) -= factor * upper.row(k).tail(n - k);
    }
    if (std::norm(upper(n - 1, n - 1)) < tiny * tiny) upper(n - 1, n - 1) = tiny;
    upper.triangularView<Eigen::Upper>().solveInPlace(vector);
    return vector.normalized();
}

}  // namespace

EigenpairSearch::EigenpairSearch(const PeriodMap& map, double tolerance, const VectorXd& start)
    : map_(&map), passes_(tolerance > 1e-5 ? 1 : 2), started_(start.size() > 0) {
    if (map.size() == 0) return;
    VectorXd first = start;
    if (!started_) map.advance(VectorXd::Ones(map.size()), first);
    if (first.norm() == 0) first.setOnes();
    basis_ = first / first.norm();
}

// One pass leaves rounding that matters only below about 1e-6.
void EigenpairSearch::extend_to(Index steps) {
    if (steps > projected_.cols()) {
        const Index before = projected_.cols();
        basis_.conservativeResize(map_->size(), steps + 1);
        MatrixXd wider = MatrixXd::Zero(steps + 1, steps);
        if (before > 0) wider.topLeftCorner(before + 1, before) = projected_;
        projected_ = std::move(wider);
    }
    VectorXd image(map_->size());
    for (; steps_ < steps && !closed_; ++steps_) {
        const Index k = steps_;
        map_->advance(basis_.col(k), image);
        const double size = image.norm();
        const auto known = basis_.leftCols(k + 1);
        for (int pass = 0; pass < passes_; ++pass) {
            const VectorXd share = known.transpose() * image;
            image.noalias() -= known * share;
            projected_.col(k).head(k + 1) += share;
        }
        const double rest = image.norm();
        projected_(k + 1, k) = rest;
        closed_ = rest <= 1e-14 * size;
        if (!closed_) basis_.col(k + 1) = image / rest;
    }
}

MatrixXd EigenpairSearch::square() const { return projected_.topLeftCorner(steps_, steps_); }

MapEigenpair EigenpairSearch::dominant(double tolerance) {
    const Index most = map_->size();
    if (most == 0) return {0.0, VectorXcd(), VectorXcd()};
    const Index usual = tolerance >= kRough ? map_->modal_size() / 2 + 2
                                            : map_->modal_size() + (tolerance > 1e-5 ? 2 : 6);
    const Index first_look = std::min<Index>(most, started_ ? 6 : usual);
    double before = HUGE_VAL;
    for (Index look = std::max(first_look, steps_);;
         look = std::min(most, look + std::max<Index>(4, look / 8))) {
        extend_to(look);
        const MatrixXd hessenberg = square();
        const VectorXcd values =
            hessenberg_eigenvalues(hessenberg, std::clamp(1e-3 * tolerance, 1e-14, 1e-6));
        const std::complex<double> value = largest_of(values);
        const VectorXcd small = hessenberg_vector(hessenberg, value);
        const double residual = projected_(steps_, steps_ - 1) * std::abs(small[steps_ - 1]);
        const double size = std::max(std::abs(value), kNextToNothing);
        const bool dies_anyway =
            tolerance > 1e-5 && std::max(size, before) < kDying &&
            (std::abs(size - before) < kSteady * size || steps_ > usual + kLong);
        before = size;
        if (closed_ || steps_ == most || dies_anyway || residual <= tolerance * size) {
            return {value, basis_.leftCols(steps_) * small, values};
        }
    }
}

std::vector<MapEigenpair> EigenpairSearch::beyond(double least, double tolerance) {
    const Index most = map_->size();
    std::vector<MapEigenpair> found;
    if (most == 0) return found;
    const Index first_look = steps_ > 0 ? steps_ : map_->modal_size() / 2 + 2;
    for (Index look = std::min(most, first_look);;
         look = std::min(most, look + std::max<Index>(6, look / 4))) {
        extend_to(look);
        const MatrixXd hessenberg = square();
        found.clear();
        bool settled = true;
        for (const std::complex<double>& value : hessenberg_eigenvalues(hessenberg, 1e-6)) {
            const double size = std::abs(value);
            if (size < least || value.imag() < 0) continue;
            const VectorXcd small = hessenberg_vector(hessenberg, value);
            const double residual = projected_(steps_, steps_ - 1) * std::abs(small[steps_ - 1]);
            settled = settled && residual <= std::max(kFinest, tolerance * std::abs(size - 1));
            if (!settled && !closed_ && steps_ < most) break;
            found.push_back({value, basis_.leftCols(steps_) * small, {}});
        }
        if (settled || closed_ || steps_ == most) return found;
    }
}

MapEigenpair dominant_eigenpair(const PeriodMap& map, double tolerance, const VectorXd& start) {
    return EigenpairSearch(map, tolerance, start).dominant(tolerance);
}

}  // namespace standfast
