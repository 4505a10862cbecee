#pragma once

#include <Eigen/Core>
#include <memory>

#include "fea/structure/assembly.hpp"

namespace standfast {

/// K, factorised once.
class StaticSolution {
public:
    /// @throws std::domain_error if K is singular (the structure can move without force); the
    ///         message names the member that moves most
    explicit StaticSolution(const AssembledSystem& system);
    ~StaticSolution();
    StaticSolution(StaticSolution&&) noexcept;
    StaticSolution& operator=(StaticSolution&&) noexcept;
    StaticSolution(const StaticSolution&) = delete;
    StaticSolution& operator=(const StaticSolution&) = delete;

    /// Displacements (n x m) under loads (n x m: N, N m).
    Eigen::MatrixXd displacements(const Eigen::MatrixXd& loads) const;

private:
    struct Factor;
    std::unique_ptr<Factor> factor_;
};

/// Static compliance of a point, m/N; 3 x 3, symmetric, model axes.
Eigen::Matrix3d point_compliance(const AssembledSystem& system, const MaterialPoint& point);

}  // namespace standfast
