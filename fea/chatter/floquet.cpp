#include "fea/chatter/floquet.hpp"

#include <Eigen/Eigenvalues>
#include <stdexcept>

#include "fea/chatter/krylov.hpp"

namespace standfast {
namespace {

// Beyond this size a Krylov space is cheaper than all eigenvalues.
constexpr Eigen::Index kLargestDense = 20;

// Largest magnitude; of equal ones the one with the larger imaginary part.
Eigen::Index largest(const Eigen::VectorXcd& values) {
    Eigen::Index best = 0;
    for (Eigen::Index k = 1; k < values.size(); ++k) {
        const double gain = std::abs(values[k]) - std::abs(values[best]);
        const bool conjugate = values[k] == std::conj(values[best]);
        if (conjugate ? values[k].imag() > values[best].imag() : gain > 0) best = k;
    }
    return best;
}

Multiplier upper(std::complex<double> value) {
    return {value.imag() < 0 ? std::conj(value) : value};
}

}  // namespace

Multiplier largest_multiplier(const PeriodMap& map) {
    if (map.size() > kLargestDense) return upper(dominant_eigenpair(map, 1e-10).value);
    const Eigen::EigenSolver<Eigen::MatrixXd> solver(map.matrix(), false);
    return upper(solver.eigenvalues()[largest(solver.eigenvalues())]);
}

Multiplier largest_multiplier(const DelaySystem& system, SpindleSpeed speed, double depth,
                              double tolerance) {
    Multiplier coarse = largest_multiplier(PeriodMap(system, speed, depth, 2));
    for (double margin = 4; margin <= 12; margin += 2) {
        const Multiplier fine = largest_multiplier(PeriodMap(system, speed, depth, margin));
        if (std::abs(fine.value - coarse.value) <= tolerance) return fine;
        coarse = fine;
    }
    throw std::domain_error("largest_multiplier: the multiplier does not settle");
}

}  // namespace standfast
