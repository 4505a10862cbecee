#pragma once

#include <Eigen/Core>
#include <memory>
#include <vector>

#include "fea/solution/modal_receptance.hpp"
#include "fea/solution/modes.hpp"
#include "fea/structure/assembly.hpp"

namespace standfast {

/// Receptance of one point of a system by direct solution of (K(1 + i eta) - w^2 M) u = f:
/// exact for the model, one banded complex factorisation a frequency. Structural damping.
///
/// Work is O(n b^2) a frequency for half band width b (about 12 for a column of tiers); several
/// threads may call at() at once.
class DirectReceptance {
public:
    DirectReceptance(const AssembledSystem& system, const MaterialPoint& point);
    ~DirectReceptance();
    DirectReceptance(DirectReceptance&&) noexcept;
    DirectReceptance& operator=(DirectReceptance&&) noexcept;
    DirectReceptance(const DirectReceptance&) = delete;
    DirectReceptance& operator=(const DirectReceptance&) = delete;

    /// 3 x 3, m/N, model axes, exp(+i w t); symmetric. At w = 0 the static compliance, complex
    /// through the loss factors.
    Eigen::Matrix3cd at(AngularFrequency frequency) const;

private:
    struct Workspace;
    std::unique_ptr<Workspace> workspace_;
};

/// Receptance of a point by the given modes plus the static compliance of all others:
/// residual = K^-1 - sum u u^T / w_n^2 (at the point), so that w = 0 is exact.
/// Agrees with DirectReceptance within 1 % over three half-power widths about the peaks of the
/// kept modes and 3 % elsewhere below half the last kept frequency (measured in validation/).
ModalReceptance modal_receptance(const AssembledSystem& system, const std::vector<Mode>& modes,
                                 const MaterialPoint& point);

/// Residual of modes that were solved already and a static compliance known beforehand.
ModalReceptance modal_receptance(const AssembledSystem& system, const std::vector<Mode>& modes,
                                 const MaterialPoint& point, const Eigen::Matrix3d& compliance);

}  // namespace standfast
