#include "fea/chatter/floquet.hpp"

#include <Eigen/Eigenvalues>
#include <stdexcept>

#include "fea/chatter/hessenberg_eigenvalues.hpp"
#include "fea/chatter/krylov.hpp"

namespace standfast {
namespace {

// Beyond this size a Krylov space is cheaper than all eigenvalues.
constexpr Eigen::Index kLargestDense = 16;

std::complex<double> largest_eigenvalue(const Eigen::MatrixXd& matrix) {
    const Eigen::HessenbergDecomposition<Eigen::MatrixXd> reduced(matrix);
    const Eigen::VectorXcd values = hessenberg_eigenvalues(reduced.matrixH(), 1e-11);
    Eigen::Index best = 0;
    values.cwiseAbs2().maxCoeff(&best);
    return values[best];
}

}  // namespace

Multiplier largest_multiplier(const PeriodMap& map) {
    if (map.size() == 0) return {0.0};  // nothing yields
    const std::complex<double> value = map.size() > kLargestDense
                                           ? dominant_eigenpair(map, 1e-10).value
                                           : largest_eigenvalue(map.matrix());
    return {value.imag() < 0 ? std::conj(value) : value};
}

Multiplier largest_multiplier(const DelaySystem& system, SpindleSpeed speed, double depth,
                              double tolerance) {
    Multiplier coarse = largest_multiplier(PeriodMap(system, speed, depth, 2));
    for (double margin = 3; margin <= 16; margin += 1) {
        const PeriodMap map(system, speed, depth, margin);
        const Multiplier fine = largest_multiplier(map);
        // A further point in a short cut gains a factor of eight or so: the finer map is better
        // than the difference by as much. In a long cut it gains less.
        const double gain = map.size() > kLargestDense ? 1 : 5;
        if (std::abs(fine.value - coarse.value) <= gain * tolerance) return fine;
        coarse = fine;
    }
    throw std::domain_error("largest_multiplier: the multiplier does not settle");
}

}  // namespace standfast
