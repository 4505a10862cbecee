#pragma once

#include <Eigen/Core>
#include <vector>

namespace standfast {

/// A column for each row, no column twice, at the least total cost.
/// @param cost  rows x columns, finite, at least as many columns as rows
/// @throws std::domain_error where there are more rows than columns or a cost is not finite
/// Source: H. W. Kuhn, Naval Research Logistics Quarterly 2 (1955) 83-97, in the form with shortest
///         augmenting paths and potentials (from memory).
std::vector<Eigen::Index> cheapest_assignment(const Eigen::MatrixXd& cost);

}  // namespace standfast
