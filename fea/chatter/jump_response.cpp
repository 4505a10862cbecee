#include "fea/chatter/jump_response.hpp"

#include <cmath>
#include <complex>
#include <numbers>

namespace standfast {
namespace {

constexpr double full_turn = 2 * std::numbers::pi;

/// Derivative of the polynomial by its angle.
Eigen::Vector3d slope_at(const AnglePolynomial<Eigen::Vector3d>& p, double angle) {
    const AnglePolynomial<Eigen::Vector3d> derivative{.constant = Eigen::Vector3d::Zero(),
                                                      .cos1 = p.sin1,
                                                      .sin1 = -p.cos1,
                                                      .cos2 = 2 * p.sin2,
                                                      .sin2 = -2 * p.cos2};
    return value_at(derivative, angle);
}

/// B_3 and B_4 at t in [0, 1).
double bernoulli3(double t) { return t * (t - 0.5) * (t - 1); }
double bernoulli4(double t) { return t * t * (t - 1) * (t - 1) - 1.0 / 30; }

}  // namespace

JumpResponse::JumpResponse(const EdgeSum<Eigen::Vector3d>& force,
                           const std::vector<ModalTerm>& terms, int base, double w)
    : base_(base) {
    Eigen::Matrix3d mass = Eigen::Matrix3d::Zero(), damping = Eigen::Matrix3d::Zero();
    for (const ModalTerm& term : terms) {
        const Eigen::Matrix3d product = term.shape * term.shape.transpose();
        mass += product;
        damping += 2 * term.damping_ratio * term.frequency.radians_per_second / w * product;
    }
    for (const auto& term : force.terms) {
        if (!is_straight(force, term)) continue;
        const double height = term.slice.to - term.slice.from;
        for (const bool enters : {true, false}) {
            const double end = enters ? term.from : term.to;
            const double scale = (enters ? height : -height) / (full_turn * w * w);
            const Eigen::Vector3d jump = scale * standfast::value_at(term.per_height, end);
            const Eigen::Vector3d slope = scale / base * slope_at(term.per_height, end);
            const double lag = force.lag * (term.slice.from + term.slice.to) / 2;
            steps_.push_back({base * (end + term.tooth_angle + lag), mass * jump,
                              mass * slope - damping * jump});
        }
    }
}

Eigen::Vector3cd JumpResponse::harmonic(int k) const {
    const std::complex<double> ik(0, k);
    Eigen::Vector3cd sum = Eigen::Vector3cd::Zero();
    for (const Step& step : steps_) {
        const std::complex<double> cubed = std::polar(1.0, -k * step.angle) / (ik * ik * ik);
        sum += step.cubic.cast<std::complex<double>>() * cubed +
               step.fourth.cast<std::complex<double>>() * (cubed / ik);
    }
    return sum;
}

Eigen::Vector3d JumpResponse::value_at(double phi) const {
    const double third = full_turn * full_turn * full_turn / 6;
    const double fourth = third * full_turn / 4;
    Eigen::Vector3d sum = Eigen::Vector3d::Zero();
    for (const Step& step : steps_) {
        const double turns = (base_ * phi - step.angle) / full_turn;
        const double t = turns - std::floor(turns);
        sum -= step.cubic * (third * bernoulli3(t)) + step.fourth * (fourth * bernoulli4(t));
    }
    return sum;
}

}  // namespace standfast
