#include "fea/chatter/equation/modal_state.hpp"

#include "fea/chatter/equation/exponentials.hpp"
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
    ModalState state{Eigen::VectorXcd(count), Eigen::MatrixXcd(receptance.residual.rows(), count),
                     receptance.residual};
    for (Eigen::Index m = 0; m < count; ++m) {
        const ModalTerm& term = receptance.terms[static_cast<std::size_t>(m)];
        require_between(term.damping_ratio, 0.0, 0.99, "modal_state", "damping ratio");
        const FirstOrderMode mode = first_order(term);
        state.lambda[m] = mode.pole;
        state.shape.col(m) = mode.shape;
    }
    return state;
}

Eigen::VectorXcd turns(const ModalState& modes, double time) {
    return exponentials(modes.lambda * time);
}

}  // namespace standfast
