#pragma once

#include <Eigen/Core>
#include <complex>

#include "fea/chatter/map/period_map.hpp"

namespace standfast {

/// An eigenvalue of a period map, its eigenvector of unit length, and what else is known.
struct MapEigenpair {
    std::complex<double> value;
    Eigen::VectorXcd vector;
    Eigen::VectorXcd others;  ///< estimates of all large eigenvalues, this one included, no order
};

/// Eigenvalue of largest magnitude (of a conjugate pair the one with Im >= 0) by Arnoldi's method
/// with full reorthogonalisation: most eigenvalues of a period map are next to nothing, so that
/// the few large ones stand out after as many steps as there are modal coordinates, or fewer.
/// @param start      any vector of the map's size that is not zero; empty: all modes alike. An
///                   approximate eigenvector (its real part) shortens the work
/// @param tolerance  residual in units of the eigenvalue's magnitude, taken as 0.03 at least. Above
///                   1e-5, motion that two looks agree to lose a fifth in a period is left at that
/// Source: Y. Saad, Numerical Methods for Large Eigenvalue Problems, chapter 6 (memory).
MapEigenpair dominant_eigenpair(const PeriodMap& map, double tolerance,
                                const Eigen::VectorXd& start = {});

}  // namespace standfast
