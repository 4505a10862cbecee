#include "fea/chatter/motion/steady_motion.hpp"

#include <Eigen/QR>
#include <algorithm>
#include <cmath>
#include <complex>
#include <limits>
#include <numbers>
#include <stdexcept>

#include "fea/chatter/equation/gauss_rule.hpp"

namespace standfast {
namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

constexpr double kSettled = 1e-11;  // of the right-hand side
constexpr double kFailed = 1e-6;
constexpr int kLook = 8;  // steps between looks at the residual

}  // namespace

// Y. Saad and M. H. Schultz, SIAM J. Sci. Stat. Comput. 7 (1986) 856-869 (memory).
VectorXd steady_state(const PeriodMap& map) {
    const Index size = map.size();
    VectorXd right, image;
    map.advance_forced(VectorXd::Zero(size), right);
    const double norm = right.norm();
    if (norm == 0) return right;
    MatrixXd basis(size, size + 1), projected = MatrixXd::Zero(size + 1, size);
    basis.col(0) = right / norm;
    for (Index k = 0; k < size; ++k) {
        map.advance(basis.col(k), image);
        VectorXd next = basis.col(k) - image;
        for (int pass = 0; pass < 2; ++pass) {
            const VectorXd share = basis.leftCols(k + 1).transpose() * next;
            next.noalias() -= basis.leftCols(k + 1) * share;
            projected.col(k).head(k + 1) += share;
        }
        projected(k + 1, k) = next.norm();
        const bool closed = projected(k + 1, k) <= 1e-14 * projected.col(k).norm();
        if (!closed) basis.col(k + 1) = next / projected(k + 1, k);
        if (!closed && (k + 1) % kLook != 0 && k + 1 < size) continue;
        const MatrixXd square = projected.topLeftCorner(k + 2, k + 1);
        const VectorXd target = norm * VectorXd::Unit(k + 2, 0);
        const VectorXd weights = square.colPivHouseholderQr().solve(target);
        const double residual = (square * weights - target).norm();
        if (residual <= kSettled * norm || closed || k + 1 == size) {
            if (!(residual <= kFailed * norm)) break;
            return basis.leftCols(k + 1) * weights;
        }
    }
    throw std::domain_error("steady_state: the motion has no end: a multiplier of 1");
}

SteadyMotion::SteadyMotion(const PreparedCut& cut, SpindleSpeed speed, double margin)
    : modes_(cut.modes), speed_(speed.radians_per_second) {
    const PeriodMap map(cut, speed, margin);
    pieces_ = map.course(steady_state(map));
    angle_ = pieces_.front().angle;
    for (const CoursePiece& piece : pieces_) length_ += piece.length;
}

EdgeVector SteadyMotion::in_piece(const CoursePiece& piece, double share) const {
    if (piece.cutting) return piece.displacement * lagrange_weights(piece.node, share);
    Eigen::VectorXd modal = piece.modal;
    turn_modes(turns(modes_, share * piece.length / speed_), modal);
    EdgeVector sum = EdgeVector::Zero(modes_.coordinates());
    for (Index m = 0; m < modes_.modes(); ++m) {
        const std::complex<double> state(modal[2 * m], modal[2 * m + 1]);
        sum += (modes_.shape.col(m) * state).imag();
    }
    return sum;
}

EdgeVector SteadyMotion::displacement(double phi, bool just_after) const {
    constexpr double kNudge = 1e-8;  // rad, beyond rounding of the kinks
    const double angle = phi + (just_after ? kNudge : -kNudge);
    double within = angle - angle_ - length_ * std::floor((angle - angle_) / length_);
    for (const CoursePiece& piece : pieces_) {
        if (within <= piece.length || &piece == &pieces_.back()) {
            return in_piece(piece, std::clamp(within / piece.length, 0.0, 1.0));
        }
        within -= piece.length;
    }
    return EdgeVector::Zero(modes_.coordinates());
}

EdgeVector SteadyMotion::peak_to_peak() const {
    constexpr double kPerVibration = 16;
    EdgeVector low =
        EdgeVector::Constant(modes_.coordinates(), std::numeric_limits<double>::infinity());
    EdgeVector high = -low;
    for (const CoursePiece& piece : pieces_) {
        const double vibrations = modes_.fastest() * piece.length / speed_ / (2 * std::numbers::pi);
        const int samples = 4 + static_cast<int>(std::ceil(kPerVibration * vibrations));
        for (int i = 0; i <= samples; ++i) {
            const EdgeVector d = in_piece(piece, static_cast<double>(i) / samples);
            low = low.cwiseMin(d);
            high = high.cwiseMax(d);
        }
    }
    return high - low;
}

EdgeVector SteadyMotion::mean() const {
    EdgeVector impulse = EdgeVector::Zero(modes_.coordinates());
    for (const CoursePiece& piece : pieces_) {
        if (piece.impulse.size() > 0) impulse += piece.impulse;
    }
    const EdgeVector force = impulse * speed_ / length_;
    EdgeVector sum = modes_.residual * force;
    for (Index m = 0; m < modes_.modes(); ++m) {
        const std::complex<double> driven = (modes_.shape.col(m).transpose() * force).value();
        sum += (modes_.shape.col(m) * (-driven / modes_.lambda[m])).imag();
    }
    return sum;
}

}  // namespace standfast
