#include "fea/studies/regression/assignment.hpp"

#include <limits>
#include <stdexcept>

namespace standfast {
namespace {

constexpr Eigen::Index kNone = -1;

/// Grows the assignment by one row along the cheapest alternating path.
class Augmenter {
public:
    explicit Augmenter(const Eigen::MatrixXd& cost)
        : cost_(cost),
          row_potential_(Eigen::VectorXd::Zero(cost.rows())),
          column_potential_(Eigen::VectorXd::Zero(cost.cols())),
          row_of_(static_cast<std::size_t>(cost.cols()), kNone) {}

    void add(Eigen::Index start) {
        const auto columns = static_cast<std::size_t>(cost_.cols());
        Eigen::VectorXd least =
            Eigen::VectorXd::Constant(cost_.cols(), std::numeric_limits<double>::infinity());
        std::vector<Eigen::Index> from(columns, kNone);
        std::vector<bool> done(columns, false);
        Eigen::Index row = start, column = kNone;
        while (true) {
            const Eigen::Index last = column;
            double delta = std::numeric_limits<double>::infinity();
            for (Eigen::Index j = 0; j < cost_.cols(); ++j) {
                if (done[static_cast<std::size_t>(j)]) continue;
                const double reduced = cost_(row, j) - row_potential_[row] - column_potential_[j];
                if (reduced < least[j]) {
                    least[j] = reduced;
                    from[static_cast<std::size_t>(j)] = last;
                }
                if (least[j] < delta) {
                    delta = least[j];
                    column = j;
                }
            }
            row_potential_[start] += delta;
            for (Eigen::Index j = 0; j < cost_.cols(); ++j) {
                const auto place = static_cast<std::size_t>(j);
                if (done[place]) {
                    row_potential_[row_of_[place]] += delta;
                    column_potential_[j] -= delta;
                } else {
                    least[j] -= delta;
                }
            }
            done[static_cast<std::size_t>(column)] = true;
            row = row_of_[static_cast<std::size_t>(column)];
            if (row == kNone) break;
        }
        while (column != kNone) {
            const Eigen::Index before = from[static_cast<std::size_t>(column)];
            row_of_[static_cast<std::size_t>(column)] =
                before == kNone ? start : row_of_[static_cast<std::size_t>(before)];
            column = before;
        }
    }

    const std::vector<Eigen::Index>& row_of() const { return row_of_; }

private:
    const Eigen::MatrixXd& cost_;
    Eigen::VectorXd row_potential_, column_potential_;
    std::vector<Eigen::Index> row_of_;
};

}  // namespace

std::vector<Eigen::Index> cheapest_assignment(const Eigen::MatrixXd& cost) {
    if (cost.rows() > cost.cols()) {
        throw std::domain_error("assignment: " + std::to_string(cost.rows()) +
                                " rows, must be at " + "most the number of columns, " +
                                std::to_string(cost.cols()));
    }
    if (!cost.allFinite()) throw std::domain_error("assignment: a cost is not finite");
    Augmenter augmenter(cost);
    for (Eigen::Index row = 0; row < cost.rows(); ++row) augmenter.add(row);
    std::vector<Eigen::Index> column(static_cast<std::size_t>(cost.rows()), kNone);
    for (std::size_t j = 0; j < augmenter.row_of().size(); ++j) {
        const Eigen::Index row = augmenter.row_of()[j];
        if (row != kNone) column[static_cast<std::size_t>(row)] = static_cast<Eigen::Index>(j);
    }
    return column;
}

}  // namespace standfast
