#pragma once

#include <Eigen/Core>
#include <complex>
#include <vector>

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

/// The same search, kept, so that a closer look goes on from where a rough one ended. The map must
/// outlive it.
class EigenpairSearch {
public:
    /// @param tolerance  the finest that will be asked for
    EigenpairSearch(const PeriodMap& map, double tolerance, const Eigen::VectorXd& start = {});

    /// As dominant_eigenpair.
    MapEigenpair dominant(double tolerance);

    /// Those of magnitude `least` or more, one of each conjugate pair, in no order: each with a
    /// residual below `tolerance` of what its magnitude lacks of 1 or has above it, and of 1e-5 at
    /// most where that is nothing.
    std::vector<MapEigenpair> beyond(double least, double tolerance);

private:
    void extend_to(Eigen::Index steps);
    Eigen::MatrixXd square() const;

    const PeriodMap* map_;
    int passes_;             // of orthogonalisation
    Eigen::MatrixXd basis_;  // V of map V_k = V_(k+1) H
    Eigen::MatrixXd projected_;
    Eigen::Index steps_ = 0;
    bool closed_ = false;  // the space holds everything that the start reaches
    bool started_ = false;
};

}  // namespace standfast
