#pragma once

#include <vector>

namespace standfast {

/// Points and weights of Gauss-Legendre quadrature on [0, 1].
struct GaussLegendre {
    std::vector<double> node;    ///< ascending, inside (0, 1)
    std::vector<double> weight;  ///< sum 1; exact for polynomials up to degree 2 n - 1
};

inline constexpr int kMostLegendrePoints = 64;

/// The rule with n points, computed once and kept; good to 1e-15. Several threads may call it.
/// @param points  1 .. kMostLegendrePoints
/// @throws std::domain_error for other numbers
/// Source: Newton iteration on the three-term recurrence of the Legendre polynomials; textbook.
const GaussLegendre& gauss_legendre(int points);

}  // namespace standfast
