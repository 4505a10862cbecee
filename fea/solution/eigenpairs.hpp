#pragma once

#include <Eigen/Core>

#include "fea/solution/node_factor.hpp"

namespace standfast {

/// Lowest eigenpairs of K v = lambda M v; ascending, v^T M v = 1.
struct Eigenpairs {
    Eigen::VectorXd values;   ///< (rad/s)^2
    Eigen::MatrixXd vectors;  ///< n x count
};

/// K and M of a system over one pattern.
struct StiffnessAndMass {
    NodePattern pattern;
    NodeBlocks<double> stiffness, mass;
};

/// Shift-invert Lanczos (Spectra) about a shift just below 0; small systems densely. The number of
/// eigenvalues below the last one found is checked by the inertia of K - mu M (Sylvester), and what
/// a single starting vector missed, as of equal eigenvalues it may, is found by subspace iteration.
/// Freedoms without mass are allowed where stiffness holds them.
/// @param count  at least 1; clipped to what the system has
/// @throws std::domain_error if a freedom has neither mass nor stiffness against the rest
/// @throws std::runtime_error if the iteration does not converge
Eigenpairs lowest_eigenpairs(const StiffnessAndMass& system, Eigen::Index count);

}  // namespace standfast
