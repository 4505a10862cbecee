#pragma once

#include "fea/judgement/solids/solid.hpp"

namespace standfast {

/// How far two convex solids stand apart. The computation lies behind this so that the core needs
/// no geometry library; `fea/reach_fcl` has one that does it.
class SolidDistance {
public:
    SolidDistance() = default;
    SolidDistance(const SolidDistance&) = delete;
    SolidDistance& operator=(const SolidDistance&) = delete;
    SolidDistance(SolidDistance&&) = delete;
    SolidDistance& operator=(SolidDistance&&) = delete;
    virtual ~SolidDistance() = default;

    /// Smallest distance between a point of one and a point of the other, m, both in the same
    /// axes. Exactly 0 where they touch or overlap: how deep they overlap is not told. Symmetric.
    /// May be called from several threads at once.
    /// @throws std::domain_error where a size is not finite or negative, or a hull has no points
    virtual double between(const ConvexSolid& a, const ConvexSolid& b) const = 0;
};

}  // namespace standfast
