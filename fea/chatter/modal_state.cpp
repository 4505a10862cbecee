#include "fea/chatter/modal_state.hpp"

#include <algorithm>
#include <cmath>

#include "fea/quantities/require.hpp"

namespace standfast {

double ModalState::fastest() const {
    return lambda.size() == 0 ? 0.0 : lambda.cwiseAbs().maxCoeff();
}

double ModalState::strongest_decay() const {
    return lambda.size() == 0 ? 0.0 : -lambda.real().minCoeff();
}

ModalState modal_state(const ModalReceptance& receptance) {
    const auto count = static_cast<Eigen::Index>(receptance.terms.size());
    ModalState state{Eigen::VectorXcd(count), Eigen::Matrix3Xd(3, count), receptance.residual};
    for (Eigen::Index m = 0; m < count; ++m) {
        const ModalTerm& term = receptance.terms[static_cast<std::size_t>(m)];
        const double w = term.frequency.radians_per_second;
        require_positive(w, "modal_state", "natural frequency");
        require_between(term.damping_ratio, 0.0, 0.99, "modal_state", "damping ratio");
        const double damped = w * std::sqrt(1 - term.damping_ratio * term.damping_ratio);
        state.lambda[m] = {-term.damping_ratio * w, damped};
        state.shape.col(m) = term.shape / std::sqrt(damped);
    }
    return state;
}

Eigen::VectorXcd turns(const ModalState& modes, double time) {
    return (modes.lambda * time).unaryExpr(&exponential);
}

}  // namespace standfast
