#include "fea/chatter/map/floquet.hpp"

#include <Eigen/LU>
#include <stdexcept>

#include "fea/chatter/map/hessenberg_eigenvalues.hpp"
#include "fea/chatter/map/krylov.hpp"

namespace standfast {
namespace {

// Beyond this size a Krylov space is cheaper than all eigenvalues.
constexpr Eigen::Index kLargestDense = 16;

std::complex<double> upper(std::complex<double> value) {
    return value.imag() < 0 ? std::conj(value) : value;
}

std::complex<double> largest_eigenvalue(const Eigen::MatrixXd& matrix, double tolerance) {
    const Eigen::VectorXcd values = hessenberg_eigenvalues(hessenberg_form(matrix), tolerance);
    Eigen::Index best = 0;
    values.cwiseAbs2().maxCoeff(&best);
    return values[best];
}

std::complex<double> largest_of(const PeriodMap& map, double tolerance) {
    if (map.size() == 0) return 0;  // nothing yields
    return upper(map.size() > kLargestDense ? dominant_eigenpair(map, 1e-3 * tolerance).value
                                            : largest_eigenvalue(map.matrix(), 1e-3 * tolerance));
}

// The map's eigenvalue next to a value that is one of a finer map: two inverse iterations and the
// Rayleigh quotient, whose error is that of the vector; good enough to tell how far the two are.
std::complex<double> eigenvalue_next_to(const PeriodMap& map, std::complex<double> value) {
    Eigen::MatrixXcd shifted = map.matrix().cast<std::complex<double>>();
    shifted.diagonal().array() -= value * (1 + 1e-9);
    const Eigen::PartialPivLU<Eigen::MatrixXcd> solver(shifted);
    const Eigen::VectorXcd first = solver.solve(Eigen::VectorXcd::Ones(map.size())).normalized();
    const Eigen::VectorXcd second = solver.solve(first);
    return value * (1 + 1e-9) + first.dot(first) / first.dot(second);
}

}  // namespace

Multiplier largest_multiplier(const PeriodMap& map) { return {largest_of(map, 1e-8)}; }

Multiplier largest_multiplier(const DelaySystem& system, SpindleSpeed speed, double depth,
                              double tolerance) {
    double margin = 3;
    const PreparedCut cut = prepare_cut(system, depth);
    const PeriodMap first(cut, speed, margin);
    std::complex<double> fine = largest_of(first, tolerance);
    if (first.size() == 0) return {fine};
    const bool small = first.size() <= kLargestDense;
    const PeriodMap second(cut, speed, margin - 1);
    // In a long cut coarse maps may rank the motions differently, so all of both are looked at.
    std::complex<double> coarse =
        small ? eigenvalue_next_to(second, fine) : largest_of(second, tolerance);
    // A further point in a short cut gains a factor of eight or so: the finer map is better than
    // the difference by as much. In a long cut it gains less.
    const double gain = small ? 3 : 1;
    while (margin <= 16) {
        if (std::abs(fine - coarse) <= gain * tolerance) return {fine};
        margin += 1;
        coarse = fine;
        fine = largest_of(PeriodMap(cut, speed, margin), tolerance);
    }
    throw std::domain_error("largest_multiplier: the multiplier does not settle");
}

}  // namespace standfast
