#include "fea/chatter/steady_motion.hpp"

#include <Eigen/QR>
#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <stdexcept>

#include "fea/chatter/gauss_rule.hpp"

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

Eigen::Vector3d SteadyMotion::in_piece(const CoursePiece& piece, double share) const {
    if (piece.cutting) return piece.displacement * lagrange_weights(piece.node, share);
    Eigen::VectorXd modal = piece.modal;
    turn_modes(turns(modes_, share * piece.length / speed_), modal);
    Eigen::Vector3d sum = Eigen::Vector3d::Zero();
    for (Index m = 0; m < modes_.modes(); ++m) sum += modes_.shape.col(m) * modal[2 * m + 1];
    return sum;
}

Eigen::Vector3d SteadyMotion::displacement(double phi, bool just_after) const {
    constexpr double kNudge = 1e-8;  // rad, beyond rounding of the kinks
    const double angle = phi + (just_after ? kNudge : -kNudge);
    double within = angle - angle_ - length_ * std::floor((angle - angle_) / length_);
    for (const CoursePiece& piece : pieces_) {
        if (within <= piece.length || &piece == &pieces_.back()) {
            return in_piece(piece, std::clamp(within / piece.length, 0.0, 1.0));
        }
        within -= piece.length;
    }
    return Eigen::Vector3d::Zero();
}

Eigen::Vector3d SteadyMotion::peak_to_peak() const {
    constexpr double kPerVibration = 16;
    Eigen::Array3d low = Eigen::Array3d::Constant(std::numeric_limits<double>::infinity());
    Eigen::Array3d high = -low;
    for (const CoursePiece& piece : pieces_) {
        const double vibrations = modes_.fastest() * piece.length / speed_ / (2 * std::numbers::pi);
        const int samples = 4 + static_cast<int>(std::ceil(kPerVibration * vibrations));
        for (int i = 0; i <= samples; ++i) {
            const Eigen::Array3d d = in_piece(piece, static_cast<double>(i) / samples).array();
            low = low.min(d);
            high = high.max(d);
        }
    }
    return high - low;
}

Eigen::Vector3d SteadyMotion::mean() const {
    Eigen::Vector3d impulse = Eigen::Vector3d::Zero();
    for (const CoursePiece& piece : pieces_) impulse += piece.impulse;
    const Eigen::Vector3d force = impulse * speed_ / length_;
    Eigen::Vector3d sum = modes_.residual * force;
    for (Index m = 0; m < modes_.modes(); ++m) {
        const double stiffness = std::norm(modes_.lambda[m]) / modes_.lambda[m].imag();
        sum += modes_.shape.col(m) * (modes_.shape.col(m).dot(force) / stiffness);
    }
    return sum;
}

}  // namespace standfast
