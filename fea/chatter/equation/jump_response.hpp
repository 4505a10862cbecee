#pragma once

#include <Eigen/Core>
#include <vector>

#include "fea/cutting/edge_sum.hpp"
#include "fea/solution/modal_receptance.hpp"

namespace standfast {

/// What the steps of a force excite, in closed form. A straight edge enters and leaves the cut at
/// once; the harmonics of the motion then fall only as 1/k^3. With x = base (phi - phi_0) and the
/// base frequency w, a step J and a step S of slope leave
///
///     d_k ~ e^(-i k base phi_0)/(2 pi w^2) [ M J/(ik)^3 + (M S - C J)/(ik)^4 ],
///     M = sum u u^T,  C = sum 2 zeta (w_n/w) u u^T,
///
/// whose sums over k are Bernoulli polynomials of x/2 pi. What remains falls as 1/k^5.
/// Source: A. N. Krylov's way of improving a Fourier series (from memory), derived here for
///         viscously damped modes.
class JumpResponse {
public:
    /// No steps: zero throughout.
    JumpResponse() = default;

    /// @param force  of one period; only its straight edges have steps
    /// @param base   periods per revolution
    /// @param w      base frequency, rad/s
    JumpResponse(const EdgeSum<Eigen::Vector3d>& force, const std::vector<ModalTerm>& terms,
                 int base, double w);

    /// The k-th coefficient, k > 0, m.
    ComplexEdgeVector harmonic(int k) const;

    /// The sum over all k but 0, m.
    EdgeVector value_at(double phi) const;

private:
    struct Step {
        double angle = 0;   ///< base phi_0
        EdgeVector cubic;   ///< factor of 1/(ik)^3, m
        EdgeVector fourth;  ///< factor of 1/(ik)^4, m
    };
    int base_ = 1;
    Eigen::Index coordinates_ = 3;
    std::vector<Step> steps_;
};

}  // namespace standfast
