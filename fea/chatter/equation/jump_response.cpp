#include "fea/chatter/equation/jump_response.hpp"

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

/// Force and slope of the force (by its angle) of a straight slice at an angle, in coordinates.
struct EdgeJump {
    EdgeVector force, slope;
};

EdgeJump edge_jump(const EdgeBasis& basis, const EdgeTerm<Eigen::Vector3d>& term, double angle) {
    const Eigen::Vector3d force = standfast::value_at(term.per_height, angle);
    const Eigen::Vector3d slope = slope_at(term.per_height, angle);
    EdgeJump jump{EdgeVector::Zero(basis.size()), EdgeVector::Zero(basis.size())};
    const double height = term.slice.to - term.slice.from;
    const GaussLegendre& rule = gauss_legendre(basis.heights());
    for (std::size_t g = 0; g < rule.node.size(); ++g) {
        const double z = term.slice.from + rule.node[g] * height;
        const double weight = rule.weight[g] * height;
        detail::add_height(jump.force, basis, z, angle, Eigen::Vector3d(weight * force));
        detail::add_height(jump.slope, basis, z, angle, Eigen::Vector3d(weight * slope));
    }
    if (basis.lever > 0) {  // its direction turns too
        const double axial = basis.lever * height * force.z();
        jump.slope[3 * basis.heights()] -= axial * std::cos(angle);
        jump.slope[3 * basis.heights() + 1] += axial * std::sin(angle);
    }
    return jump;
}

}  // namespace

JumpResponse::JumpResponse(const EdgeSum<Eigen::Vector3d>& force,
                           const std::vector<ModalTerm>& terms, int base, double w)
    : base_(base), coordinates_(force.basis.size()) {
    EdgeMatrix mass = EdgeMatrix::Zero(coordinates_, coordinates_), damping = mass;
    for (const ModalTerm& term : terms) {
        const EdgeMatrix product = term.shape * term.shape.transpose();
        mass += product;
        damping += 2 * term.damping_ratio * term.frequency.radians_per_second / w * product;
    }
    for (const auto& term : force.terms) {
        if (!is_straight(force, term)) continue;
        for (const bool enters : {true, false}) {
            const double end = enters ? term.from : term.to;
            const double scale = (enters ? 1 : -1) / (full_turn * w * w);
            const EdgeJump at_end = edge_jump(force.basis, term, end);
            const EdgeVector jump = scale * at_end.force;
            const EdgeVector slope = scale / base * at_end.slope;
            const double lag = force.lag * (term.slice.from + term.slice.to) / 2;
            steps_.push_back({base * (end + term.tooth_angle + lag), mass * jump,
                              mass * slope - damping * jump});
        }
    }
}

ComplexEdgeVector JumpResponse::harmonic(int k) const {
    const std::complex<double> ik(0, k);
    ComplexEdgeVector sum = ComplexEdgeVector::Zero(coordinates_);
    for (const Step& step : steps_) {
        const std::complex<double> cubed = std::polar(1.0, -k * step.angle) / (ik * ik * ik);
        sum += step.cubic.cast<std::complex<double>>() * cubed +
               step.fourth.cast<std::complex<double>>() * (cubed / ik);
    }
    return sum;
}

EdgeVector JumpResponse::value_at(double phi) const {
    const double third = full_turn * full_turn * full_turn / 6;
    const double fourth = third * full_turn / 4;
    EdgeVector sum = EdgeVector::Zero(coordinates_);
    for (const Step& step : steps_) {
        const double turns = (base_ * phi - step.angle) / full_turn;
        const double t = turns - std::floor(turns);
        sum -= step.cubic * (third * bernoulli3(t)) + step.fourth * (fourth * bernoulli4(t));
    }
    return sum;
}

}  // namespace standfast
