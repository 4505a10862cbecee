// What the motion does between the ends of a period.
#include "fea/chatter/equation/gauss_rule.hpp"
#include "fea/chatter/map/period_map.hpp"

namespace standfast {
namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXcd;
using Eigen::VectorXd;

VectorXcd complex_of(const VectorXd& modal) {
    VectorXcd state(modal.size() / 2);
    for (Index m = 0; m < state.size(); ++m) state[m] = {modal[2 * m], modal[2 * m + 1]};
    return state;
}

MatrixXd fine_forces(const CutStep& cut, const VectorXd& chip, const GaussRule& rule) {
    const Index fine = rule.fine_node.size();
    MatrixXd force =
        cut.given.cols() > 0 ? cut.given : MatrixXd(MatrixXd::Zero(cut.force.rows(), fine));
    for (Index row = 0; row < cut.force.cols() / fine; ++row) {
        const VectorXd value = rule.interpolation * chip.segment(row * cut.points, cut.points);
        force += cut.force.middleCols(row * fine, fine) * value.asDiagonal();
    }
    return force;
}

}  // namespace

CoursePiece PeriodMap::course_of(const Step& step, const VectorXd& modal, const VectorXd& chip,
                                 const VectorXd& modal_after) const {
    CoursePiece piece{
        .angle = step.angle, .length = step.length, .cutting = step.cutting, .modal = modal};
    if (!step.cutting) return piece;
    const GaussRule& rule = gauss_rule(step.cut.points);
    const double duration = step.cut.duration;
    const MatrixXd force = fine_forces(step.cut, chip, rule);
    piece.impulse = duration * force * rule.fine_weight;

    const Index points = rule.node.size();
    piece.node.resize(points + 2);
    piece.node << 0, rule.node, 1;
    piece.displacement.resize(modes_.coordinates(), points + 2);
    const Eigen::MatrixXcd driven = modes_.shape.transpose() * force;
    const VectorXcd start = complex_of(modal);
    for (Index i = 0; i < points + 2; ++i) {
        VectorXcd state = i == 0 ? start : complex_of(modal_after);
        const bool inside = i > 0 && i < points + 1;
        for (Index m = 0; inside && m < state.size(); ++m) {
            std::complex<double> sum = start[m];
            for (Index q = 0; q < rule.fine_node.size(); ++q) {
                sum += duration * rule.integral(i - 1, q) * driven(m, q) *
                       exponential(-modes_.lambda[m] * duration * rule.fine_node[q]);
            }
            state[m] = exponential(modes_.lambda[m] * duration * piece.node[i]) * sum;
        }
        const VectorXd here = force * lagrange_weights(rule.fine_node, piece.node[i]);
        piece.displacement.col(i) = (modes_.shape * state).imag() + modes_.residual * here;
    }
    return piece;
}

std::vector<CoursePiece> PeriodMap::course(const VectorXd& state) const {
    std::vector<CoursePiece> pieces;
    VectorXd after = state;
    VectorXd modal = state.head(modal_size());
    for (const Step& step : steps_) {
        const VectorXd before = modal;
        const VectorXd chip = take_step(step, true, after, modal);
        pieces.push_back(course_of(step, before, chip, modal));
    }
    return pieces;
}

}  // namespace standfast
