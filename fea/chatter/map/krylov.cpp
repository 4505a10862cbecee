#include "fea/chatter/map/krylov.hpp"

#include <algorithm>
#include <cmath>

#include "fea/chatter/map/hessenberg_eigenvalues.hpp"

namespace standfast {
namespace {

constexpr double kRough = 5e-3;
constexpr double kDying = 0.8, kSteady = 0.03;  // where two looks agree on it that will do
constexpr Eigen::Index kLong = 24;       // steps more than usual, and its rate no longer matters
constexpr double kNextToNothing = 0.03;  // where all motion dies at once, its rates hardly differ

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXcd;
using Eigen::VectorXd;

// V and H of Arnoldi's relation: map V_k = V_{k+1} H, H (k + 1) x k.
struct Space {
    MatrixXd basis;
    MatrixXd projected;
    Index steps = 0;
    bool closed = false;  // the space holds everything that the start reaches
};

Space open_space(const PeriodMap& map, const VectorXd& start, Index room) {
    Space space{MatrixXd(map.size(), room + 1), MatrixXd::Zero(room + 1, room)};
    VectorXd first = start;
    if (first.size() == 0) map.advance(VectorXd::Ones(map.size()), first);
    if (first.norm() == 0) first.setOnes();
    space.basis.col(0) = first / first.norm();
    return space;
}

void make_room(Space& space, Index room) {
    const Index before = space.projected.cols();
    if (room <= before) return;
    space.basis.conservativeResize(Eigen::NoChange, room + 1);
    MatrixXd wider = MatrixXd::Zero(room + 1, room);
    wider.topLeftCorner(before + 1, before) = space.projected;
    space.projected = std::move(wider);
}

// `passes` of orthogonalisation: one leaves rounding that matters only below about 1e-6.
void extend(const PeriodMap& map, int passes, Space& space, VectorXd& image) {
    const Index k = space.steps;
    map.advance(space.basis.col(k), image);
    const double size = image.norm();
    const auto known = space.basis.leftCols(k + 1);
    for (int pass = 0; pass < passes; ++pass) {
        const VectorXd share = known.transpose() * image;
        image.noalias() -= known * share;
        space.projected.col(k).head(k + 1) += share;
    }
    const double rest = image.norm();
    space.projected(k + 1, k) = rest;
    ++space.steps;
    space.closed = rest <= 1e-14 * size;
    if (!space.closed) space.basis.col(k + 1) = image / rest;
}

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

MapEigenpair dominant_eigenpair(const PeriodMap& map, double tolerance, const VectorXd& start) {
    const Index most = map.size();
    if (most == 0) return {0.0, VectorXcd(), VectorXcd()};
    const Index usual = tolerance >= kRough ? map.modal_size() / 2 + 2
                                            : map.modal_size() + (tolerance > 1e-5 ? 2 : 6);
    const Index first_look = std::min<Index>(most, start.size() == 0 ? usual : 6);
    Space space = open_space(map, start, first_look);
    const int passes = tolerance > 1e-5 ? 1 : 2;
    VectorXd image(map.size());
    double before = HUGE_VAL;
    for (Index look = first_look;; look = std::min(most, look + std::max<Index>(4, look / 8))) {
        make_room(space, look);
        while (space.steps < look && !space.closed) extend(map, passes, space, image);
        const Index k = space.steps;
        const MatrixXd square = space.projected.topLeftCorner(k, k);
        const VectorXcd values =
            hessenberg_eigenvalues(square, std::clamp(1e-3 * tolerance, 1e-14, 1e-6));
        const std::complex<double> value = largest_of(values);
        const VectorXcd small = hessenberg_vector(square, value);
        const double residual = space.projected(k, k - 1) * std::abs(small[k - 1]);
        const double size = std::max(std::abs(value), kNextToNothing);
        const bool dies_anyway = tolerance > 1e-5 && std::max(size, before) < kDying &&
                                 (std::abs(size - before) < kSteady * size || k > usual + kLong);
        before = size;
        if (space.closed || k == most || dies_anyway || residual <= tolerance * size) {
            return {value, space.basis.leftCols(k) * small, values};
        }
    }
}

}  // namespace standfast
